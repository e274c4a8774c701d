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
    internal static void AddCalendars(this IServiceCollection services) => services.AddSingleton<CalendarBook>().AddSingleton<CalendarDates>();

    /// <summary>Puts calendars under the root of the pages.</summary>
    internal static void MapCalendars(this WebApplication app) => app.MapMethods(Route, ["GET", "HEAD"], GiveAsync);

    private static async Task<IResult> GiveAsync(HttpContext context, string key, CalendarBook book, CalendarDates dates, Board board, WishBook wishes, AlertSettings alerts, PreferenceBook preferences, PageSettings page, TimeProvider clock)
    {
        context.Response.Headers.CacheControl = "private, no-cache";
        if (!key.EndsWith(Ending, StringComparison.Ordinal) || book.Find(key[..^Ending.Length]) is not { } person)
        {
            return Results.NotFound();
        }

        var wanted = wishes.Of(person)?.Listener("calendar") ?? new PersonalChannel("calendar", QuietHours: null);
        var acts = await dates.OfAsync(board.State.Snapshot.Entries.Select(entry => entry.View), alerts, clock.GetUtcNow(), context.RequestAborted);
        var text = CalendarWriter.Write(acts.Where(one => wanted.Wants(one.Act.Rule, one.Batch)), preferences.Reader, NoticeLink.Root(preferences.Present.BaseUrl, page.IsForThisMachineAlone), clock.GetUtcNow());
        return Results.Text(text, "text/calendar", Encoding.UTF8);
    }
}
