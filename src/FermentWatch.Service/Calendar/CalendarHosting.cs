using System.Text;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Service.Configuration;
using FermentWatch.Service.Dashboard;
using FermentWatch.Service.Dashboard.Preferences;
using FermentWatch.Service.Personal;
using FermentWatch.Service.Texts;

namespace FermentWatch.Service.Calendar;

/// <summary>Gives out calendars at their secret addresses, without a sign-in: a calendar program has none.</summary>
public static class CalendarHosting
{
    /// <summary>Route of the calendars.</summary>
    public const string Route = "/calendar/{key}";

    /// <summary>What stands behind the key, so that programs know the kind of file.</summary>
    public const string Ending = ".ics";

    /// <summary>Registers what calendars stand on.</summary>
    internal static void AddCalendars(this IServiceCollection services) => services.AddSingleton<CalendarBook>();

    /// <summary>Puts calendars under the root of the pages.</summary>
    internal static void MapCalendars(this WebApplication app) => app.MapMethods(Route, ["GET", "HEAD"], Give);

    private static IResult Give(HttpContext context, string key, CalendarBook book, Board board, WishBook wishes, AlertSettings alerts, PreferenceBook preferences, PageSettings page, TimeProvider clock)
    {
        context.Response.Headers.CacheControl = "private, no-cache";
        if (!key.EndsWith(Ending, StringComparison.Ordinal) || book.Find(key[..^Ending.Length]) is not { } person)
        {
            return Results.NotFound();
        }

        var wanted = wishes.Of(person)?.Listener("calendar") ?? new PersonalChannel("calendar", QuietHours: null);
        var acts = from entry in board.State.Snapshot.Entries
                   from act in NextActs.WithNutrient(entry.View, alerts)
                   where wanted.Wants(act.Rule, entry.View.Batch.Id)
                   select (entry.View.Batch.Id, act);
        var text = CalendarWriter.Write(acts, preferences.Reader, NoticeLink.Root(preferences.Present.BaseUrl, page.IsForThisMachineAlone), clock.GetUtcNow());
        return Results.Text(text, "text/calendar", Encoding.UTF8);
    }
}
