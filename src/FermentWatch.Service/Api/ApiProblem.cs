namespace FermentWatch.Service.Api;

/// <summary>Faults as problem details [RFC 9457].</summary>
internal static class ApiProblem
{
    /// <param name="status">HTTP status.</param>
    /// <param name="title">The kind of fault, the same for every case of it.</param>
    /// <param name="detail">This case: value and what would be right.</param>
    /// <param name="errors">Faulty fields, each with its JSON Pointer.</param>
    public static IResult Of(int status, string title, string detail, IReadOnlyList<FieldProblem>? errors = null) => Results.Json(
        new { type = "about:blank", title, status, detail, errors = errors ?? [] },
        contentType: "application/problem+json",
        statusCode: status);
}
