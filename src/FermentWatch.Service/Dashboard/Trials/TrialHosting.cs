using System.Security.Cryptography;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Oenology.BenchTrials;
using FermentWatch.Service.Access;
using FermentWatch.Service.Dashboard.Forms;
using FermentWatch.Service.Dashboard.Pages;
using FermentWatch.Service.Dashboard.Preferences;
using FermentWatch.Service.Dashboard.Trials.Tasting;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Http.HttpResults;

namespace FermentWatch.Service.Dashboard.Trials;

/// <summary>The bench trial: plan, mixing sheet, tasting, result, scale-up. What is in the glasses is for makers; guests see <see cref="GuestHosting"/> alone.</summary>
internal static class TrialHosting
{
    public static void MapTrials(this WebApplication app)
    {
        Get(app, "/trials", context => Page<TrialsPage>(context, new() { ["Trials"] = StoreOf(context).ReadTrials() }));
        Get(app, "/trials/instruments", context => Page<InstrumentsPage>(context, new()
        {
            ["State"] = InstrumentForms.Of(BenchInstruments.Read(StoreOf(context)), DashboardHosting.VisitOf(context).Reader),
            ["IsDone"] = context.Request.Query.ContainsKey("done"),
        }));
        app.MapForm("/trials/instruments", InstrumentForms.SaveAsync);
        Get(app, "/trials/palate", Palate);
        Get(app, "/trials/palate/{number}", Quiz);
        Get(app, "/trials/new", PlanForms.Show);
        app.MapForm("/trials/new", PlanForms.PlanAsync);
        GetOne<TrialPage>(app, "/trials/{trial:long}");
        GetOne<TastingPage>(app, "/trials/{trial:long}/tasting", Door);
        GetOne<PaperPage>(app, "/trials/{trial:long}/paper", (_, found) => found.Trial.Free is null ? [] : null);
        GetOne<SheetPage>(app, "/trials/{trial:long}/sheet", (context, found) =>
            found.Trial.Free is null && context.Request.Query["taster"].ToString() is var taster && found.Trial.Request.Tasters.Contains(taster) ? new() { ["Taster"] = taster } : null);
        GetOne<ResultPage>(app, "/trials/{trial:long}/result");
        GetOne<ScalePage>(app, "/trials/{trial:long}/scale", ScaleForms.Parameters);
        app.MapForm("/trials/{trial:long}/mixed", MixForms.MixedAsync);
        app.MapForm("/trials/{trial:long}/choose", ResultForms.ChooseAsync);
        app.MapForm("/trials/{trial:long}/flight", ResultForms.FlightAsync);
        app.MapForm("/trials/{trial:long}/scale", ScaleForms.ActAsync);
        app.MapForm("/trials/{trial:long}/tasting", DoorForms.ChangeAsync);
        app.MapForm("/trials/{trial:long}/sheet", SheetForms.SaveAsync);
        app.MapForm("/trials/{trial:long}/free", FreeForms.ActAsync);
        app.MapForm("/trials/{trial:long}/jars", MixForms.JarsAsync);
        app.MapForm("/trials/{trial:long}/give-up", MixForms.GiveUpAsync);
    }

    /// <summary>A page that stands on one trial.</summary>
    public static void GetOne<TPage>(WebApplication app, string route, Func<HttpContext, StoredTrial, Dictionary<string, object?>?>? more = null)
        where TPage : IComponent => Get(app, route, context =>
        {
            if (Find(context) is not { } found || (more is null ? [] : more(context, found)) is not { } parameters)
            {
                return NotFound(context);
            }

            parameters["Stored"] = found;
            return Page<TPage>(context, parameters);
        });

    /// <summary>The trial of the address, or null.</summary>
    public static StoredTrial? Find(HttpContext context) =>
        long.TryParse(context.Request.RouteValues["trial"]?.ToString(), System.Globalization.NumberStyles.None, System.Globalization.CultureInfo.InvariantCulture, out var id)
            ? StoreOf(context).ReadTrial(id)
            : null;

    public static IResult NotFound(HttpContext context) => Page<NotFoundPage>(context, [], StatusCodes.Status404NotFound);

    public static RazorComponentResult<TPage> Page<TPage>(HttpContext context, Dictionary<string, object?> parameters, int? status = null)
        where TPage : IComponent
    {
        parameters["Visit"] = DashboardHosting.VisitOf(context);
        context.Response.Headers.CacheControl = "no-store";
        return new RazorComponentResult<TPage>(parameters) { StatusCode = status, PreventStreamingRendering = true };
    }

    private static IResult Palate(HttpContext context) => Page<PalatePage>(context, new()
    {
        ["Stimulus"] = TasteStimulus.All.FirstOrDefault(one => one.Code == context.Request.Query["what"].ToString()) ?? TasteStimulus.Sugar,
        ["Syringe"] = BenchInstruments.Read(StoreOf(context))?.Syringe,
        ["New"] = (long)RandomNumberGenerator.GetInt32(1, (int)PalateStory.LastQuiz + 1),
    });

    private static IResult Quiz(HttpContext context)
    {
        if (PalateStory.NumberOf(context.Request.RouteValues["number"]?.ToString() ?? "") is not { } number)
        {
            return NotFound(context);
        }

        var query = context.Request.Query;
        var codes = PalateStory.Quiz(number).Glasses.Select(glass => glass.Code);
        return Page<QuizPage>(context, new()
        {
            ["Number"] = number,
            ["IsKey"] = query.ContainsKey("key"),
            ["IsSent"] = query.ContainsKey("sent"),
            ["Answers"] = codes.Select(code => (Code: code, Named: query["glass-" + code].ToString())).Where(answer => PalateStory.Quiz(number).Choices.Contains(answer.Named))
                .ToDictionary(answer => answer.Code, answer => answer.Named),
        });
    }

    private static Dictionary<string, object?> Door(HttpContext context, StoredTrial found)
    {
        var store = StoreOf(context);
        var code = DoorForms.CodeOf(context, found.Id);
        var root = context.RequestServices.GetRequiredService<PreferenceBook>().Present.BaseUrl
            ?? new Uri($"{context.Request.Scheme}://{context.Request.Host}{context.Request.PathBase}/");
        return new()
        {
            ["Code"] = code,
            ["Until"] = store.ReadTasting(found.Id)?.ExpiresAt,
            ["Address"] = new Uri(root, code is null ? "tasting" : "tasting/" + code),
            ["Seats"] = store.ReadSeats(found.Id),
            ["IsLocked"] = context.RequestServices.GetRequiredService<AccessBook>().IsLocked,
        };
    }

    private static Store StoreOf(HttpContext context) => context.RequestServices.GetRequiredService<Store>();

    private static void Get(WebApplication app, string route, Func<HttpContext, IResult> show) => app.MapMethods(route, ["GET", "HEAD"], show);
}
