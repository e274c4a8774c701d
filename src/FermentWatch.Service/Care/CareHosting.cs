using System.Security.Cryptography;
using System.Text;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Service.Configuration;
using FermentWatch.Service.Dashboard.Forms;
using FermentWatch.Service.Dashboard.InOut;
using FermentWatch.Service.InOut;

namespace FermentWatch.Service.Care;

/// <summary>Health and metrics for programs; the page of care for the maker.</summary>
internal static class CareHosting
{
    public const string Alive = "/healthz";
    public const string Ready = "/readyz";
    public const string Metrics = "/metrics";

    private static readonly string[] Reading = ["GET", "HEAD"];

    /// <summary>Puts them under the root of the pages.</summary>
    public static void MapCare(this WebApplication app)
    {
        app.MapMethods(Alive, Reading, () => Results.Text("alive"));
        app.MapMethods(Ready, Reading, (HttpContext context, HealthReader health) =>
        {
            context.Response.Headers.CacheControl = "no-store";
            var report = health.Read();
            return Results.Json(
                new { ready = report.IsReady, checks = report.Checks.Select(check => new { name = check.Name, condition = check.Condition.ToString().ToLowerInvariant(), says = check.Says }) },
                statusCode: report.IsReady ? StatusCodes.Status200OK : StatusCodes.Status503ServiceUnavailable);
        });
        // The metrics begin to count commits now, not with the first question.
        var metrics = app.Services.GetRequiredService<ServiceMetrics>();
        app.MapMethods(Metrics, Reading, (HttpContext context, ServiceSettings settings) => MetricsAsync(context, settings, metrics));
        app.MapMethods("/care", Reading, context => InOutPages.Page<CarePage>(context, Parameters(context.RequestServices)).ExecuteAsync(context));
        app.MapMethods(Api.ApiDocument.Route, Reading, () => Results.Text(Api.ApiDocument.Build().ToJsonString(Worksheets.WorksheetJson.Readable), "application/json"));
        app.MapMethods("/api", Reading, context => InOutPages.Page<ApiPage>(context, []).ExecuteAsync(context));
        app.MapForm("/care/backup", BackupAsync);
        app.MapForm("/care/diagnostics", (form, _) => Task.FromResult(Bundle(form)));
    }

    private static async Task MetricsAsync(HttpContext context, ServiceSettings settings, ServiceMetrics metrics)
    {
        if (settings.MetricsToken is not { } token)
        {
            context.Response.StatusCode = StatusCodes.Status404NotFound;
            await context.Response.WriteAsync(CareText.Of("metrics-no-token"));
            return;
        }

        if (!CryptographicOperations.FixedTimeEquals(Hash(context.Request.Headers.Authorization.ToString()), Hash("Bearer " + token)))
        {
            context.Response.StatusCode = StatusCodes.Status401Unauthorized;
            context.Response.Headers.WWWAuthenticate = "Bearer";
            await context.Response.WriteAsync(CareText.Of("metrics-token"));
            return;
        }

        context.Response.Headers.CacheControl = "no-store";
        context.Response.ContentType = "text/plain; version=0.0.4; charset=utf-8";
        await metrics.WriteAsync(context.Response.Body, context.RequestAborted);
    }

    private static byte[] Hash(string text) => SHA256.HashData(Encoding.UTF8.GetBytes(text));

    private static async Task<IResult> BackupAsync(SentForm form, CancellationToken cancellationToken)
    {
        try
        {
            await form.Service<BackupDesk>().MakeAsync(cancellationToken);
            return FormHosting.Back(form, "care");
        }
        catch (BackupException)
        {
            return FormHosting.Again<CarePage>(form, Parameters(form.Context.RequestServices));
        }
    }

    private static IResult Bundle(SentForm form)
    {
        var (settings, health, log) = (form.Service<ServiceSettings>(), form.Service<HealthReader>(), form.Service<RecentLog>());
        var now = form.Service<TimeProvider>().GetUtcNow();
        form.Context.Response.Headers.CacheControl = "no-store";
        return ExportFile.Send(form.Service<ExportFolder>().Path, "fermentwatch-diagnostics.zip", "application/zip", stream => Diagnostics.Write(settings, health.Read(), log.Lines, now, stream));
    }

    private static Dictionary<string, object?> Parameters(IServiceProvider services) => new()
    {
        ["Report"] = services.GetRequiredService<HealthReader>().Read(),
        ["Backups"] = services.GetRequiredService<BackupDesk>(),
    };
}
