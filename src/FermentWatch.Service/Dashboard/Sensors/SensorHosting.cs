using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Dashboard.Forms;
using FermentWatch.Service.Dashboard.Pages;
using FermentWatch.Service.Pipeline;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Http.HttpResults;

namespace FermentWatch.Service.Dashboard.Sensors;

/// <summary>Pages and forms about sensors.</summary>
public static class SensorHosting
{
    /// <summary>Puts the pages and forms at their addresses.</summary>
    public static WebApplication MapSensors(this WebApplication app)
    {
        ArgumentNullException.ThrowIfNull(app);
        app.MapMethods("/sensors", ["GET", "HEAD"], List);
        app.MapMethods("/sensors/{name}", ["GET", "HEAD"], One);
        app.MapForm("/sensors/{name}/placement", PlacementForms.PlaceAsync);
        app.MapForm("/sensors/{name}/move", PlacementForms.MoveAsync);
        app.MapForm("/sensors/{name}/inclination", CalibrationForms.InclinationAsync);
        app.MapForm("/sensors/{name}/adjust", CalibrationForms.AdjustAsync);
        app.MapForm("/sensors/{name}/retire", CalibrationForms.RetireAsync);
        return app;
    }

    /// <summary>Path of a sensor's page from the root of the pages.</summary>
    public static string PathOf(SensorId sensor) => "sensors/" + Uri.EscapeDataString(sensor.Value);

    /// <summary>The sensor that a request is about. A slash in a name stays escaped in the route.</summary>
    internal static SensorId SensorOf(HttpContext context) =>
        new((context.Request.RouteValues["name"]?.ToString() ?? "").Replace("%2F", "/", StringComparison.OrdinalIgnoreCase));

    /// <summary>The answer to a form that was done: views are computed anew, and the reader is back on the sensor's page.</summary>
    internal static IResult Done(SentForm form, SensorId sensor, IEnumerable<BatchId> batches)
    {
        form.Service<PipelineSignals>().Touch(batches);
        return FormHosting.Back(form, PathOf(sensor));
    }

    /// <summary>The page again, with the fault of a field and what was typed.</summary>
    internal static IResult Again(SentForm form, SensorId sensor, string field, string fault)
    {
        var sheet = SensorSheet.Of(form.Service<Store>(), form.Visit, sensor);
        return sheet is null
            ? new RazorComponentResult<NotFoundPage>(new Dictionary<string, object?> { ["Visit"] = form.Visit }) { StatusCode = StatusCodes.Status404NotFound }
            : FormHosting.Again<SensorPage>(form, new Dictionary<string, object?>
            {
                ["Sheet"] = sheet,
                ["Faults"] = new FormFaults(field, fault, form.Fields.ToDictionary(pair => pair.Key, pair => pair.Value.ToString())),
            });
    }

    private static Task List(HttpContext context)
    {
        var visit = DashboardHosting.VisitOf(context);
        var lines = SensorLine.All(context.RequestServices.GetRequiredService<Store>(), visit);
        return Show<SensorsPage>(context, visit, "Lines", lines);
    }

    private static Task One(HttpContext context)
    {
        var visit = DashboardHosting.VisitOf(context);
        var sheet = SensorSheet.Of(context.RequestServices.GetRequiredService<Store>(), visit, SensorOf(context));
        return sheet is null ? Show<NotFoundPage>(context, visit, null, null, StatusCodes.Status404NotFound) : Show<SensorPage>(context, visit, "Sheet", sheet);
    }

    private static Task Show<TPage>(HttpContext context, Visit visit, string? name, object? value, int? status = null)
        where TPage : IComponent
    {
        var parameters = new Dictionary<string, object?> { ["Visit"] = visit };
        if (name is not null)
        {
            parameters[name] = value;
        }

        context.Response.Headers.CacheControl = "no-store";
        return new RazorComponentResult<TPage>(parameters) { StatusCode = status, PreventStreamingRendering = true }.ExecuteAsync(context);
    }
}

/// <summary>What is wrong with a form that was sent.</summary>
/// <param name="Field">Name of the field at fault.</param>
/// <param name="Fault">The sentence: the value, and what would be right.</param>
/// <param name="Typed">All that was typed, by field.</param>
public sealed record FormFaults(string Field, string Fault, IReadOnlyDictionary<string, string> Typed)
{
    /// <summary>Nothing wrong, nothing typed.</summary>
    public static FormFaults None { get; } = new("", "", new Dictionary<string, string>());

    /// <summary>What was typed into a field, or what stands there at first.</summary>
    public string Value(string field, string first = "") => Typed.TryGetValue(field, out var typed) ? typed : first;
}
