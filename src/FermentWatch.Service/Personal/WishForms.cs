using System.Globalization;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Access;
using FermentWatch.Service.Calendar;
using FermentWatch.Service.Configuration;
using FermentWatch.Service.Dashboard.Forms;
using FermentWatch.Service.Dashboard.Preferences;
using FermentWatch.Service.InOut;
using FermentWatch.Service.Texts;

namespace FermentWatch.Service.Personal;

/// <summary>A person's own page of notices: what they want to be told, when, and through which channels.</summary>
internal static class WishForms
{
    private const string Path = "account/notices";
    private const int NewestNotices = 500;

    public static void Map(WebApplication app)
    {
        app.MapMethods("/" + Path, ["GET", "HEAD"], context => AccessAnswers.Page<WishPage>(
            context, StatusCodes.Status200OK, new() { ["View"] = ViewOf(context, context.SignedIn()!.Person) with { Done = context.Request.Query["done"].ToString() } }));
        app.MapForm("/" + Path, ChangeAsync);
    }

    private static async Task<IResult> ChangeAsync(SentForm form, CancellationToken stop)
    {
        var person = form.Context.SignedIn()!.Person;
        if (form["do"] == "wishes")
        {
            return await WishAsync(form, person, stop);
        }

        if (form["do"] is "calendar" or "calendar-revoke")
        {
            return await CalendarAsync(form, person, stop);
        }

        var (book, kind) = (form.Service<WishBook>(), PersonalChannelCatalog.All.FirstOrDefault(one => one.Id == form["kind"]));
        if (kind is null || !kind.IsOffered(book.House))
        {
            return FormHosting.Back(form, Path);
        }

        switch (form["do"])
        {
            case "channel":
                return await ChannelAsync(form, person, kind, stop);
            case "remove":
                var wishes = book.Of(person) ?? New(form);
                await book.KeepAsync(person, wishes with { Channels = wishes.Channels.Where(one => one.Key != kind.Id).ToDictionary() }, stop);
                return FormHosting.Back(form, Path);
            case "confirm":
                await form.Service<ChannelTests>().ConfirmAsync(WishBook.ChannelOf(person, kind), stop);
                return FormHosting.Back(form, $"{Path}#{kind.Id}");
            case "test" when !form.Service<TestLimit>().Admits(person):
                var page = Again(form, person, new() { [kind.Id] = PersonalText.Of("test-slow") });
                page.StatusCode = StatusCodes.Status429TooManyRequests;
                return page;
            case "test" when book.Build(person, kind) is { } notifier:
                await form.Service<ChannelTests>().SendAsync(notifier, stop);
                return FormHosting.Back(form, $"{Path}#{kind.Id}");
            default:
                return FormHosting.Back(form, Path);
        }
    }

    /// <summary>The address is shown by the answer itself, this once; a second sending makes another.</summary>
    private static async Task<IResult> CalendarAsync(SentForm form, Person person, CancellationToken stop)
    {
        var calendars = form.Service<CalendarBook>();
        if (form["do"] == "calendar-revoke")
        {
            await calendars.RevokeAsync(person, stop);
            return FormHosting.Back(form, Path + "#calendar");
        }

        var key = await calendars.MakeAsync(person, stop);
        var request = form.Context.Request;
        var root = NoticeLink.Root(form.Service<PreferenceBook>().Present.BaseUrl, isLoopbackOnly: false) ?? new Uri($"{request.Scheme}://{request.Host}{request.PathBase}/");
        var page = FormHosting.Again<WishPage>(
            form, new() { ["View"] = ViewOf(form.Context, person) with { CalendarMade = new Uri(root, $"calendar/{key}{CalendarHosting.Ending}").AbsoluteUri } });
        page.StatusCode = StatusCodes.Status200OK;
        return page;
    }

    private static async Task<IResult> WishAsync(SentForm form, Person person, CancellationToken stop)
    {
        var faults = new Dictionary<string, string>();
        TimeOnly Time(string field)
        {
            var read = SettingReaders.TimeOfDay(form[field]);
            if (!read.Ok)
            {
                faults[field] = PersonalText.Of("time-fault", form[field]);
            }

            return read.Value;
        }

        var (from, until) = (Time("quiet-from"), Time("quiet-until"));
        var book = form.Service<WishBook>();
        var before = book.Of(person) ?? New(form);
        var aDay = before.ADay;
        if (form["a-day"] is { Length: > 0 } text && (!int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out aDay) || aDay is < 1 or > NoticeWishes.MostADay))
        {
            faults["a-day"] = PersonalText.Of("a-day-fault", form["a-day"], NoticeWishes.MostADay);
        }

        var own = OwnOf(form, faults);
        if (faults.Count > 0)
        {
            return Again(form, person, faults);
        }

        var rules = form.Fields["rule"];
        var known = form.Visit.Snapshot.Entries.Select(entry => entry.View.Batch.Id.Value).ToHashSet(StringComparer.Ordinal);
        await book.KeepAsync(
            person,
            before with
            {
                QuietFrom = from,
                QuietUntil = until,
                ADay = aDay,
                Own = own,
                WithoutRules = ValueList.Of(AlertRuleCatalog.All.Select(rule => rule.Id).Where(id => !rules.Contains(id))),
                OnlyBatches = form["batches"] == "only" ? ValueList.Of(form.Fields["batch"].OfType<string>().Where(known.Contains)) : null,
            },
            stop);
        return FormHosting.Back(form, Path + "?done=wishes");
    }

    /// <summary>Units, decimal mark and zone; what is left empty is as in the house.</summary>
    private static Dictionary<string, string> OwnOf(SentForm form, Dictionary<string, string> faults)
    {
        var own = new Dictionary<string, string>(StringComparer.Ordinal);
        foreach (var field in PreferenceCatalog.Personal)
        {
            if (form[field.Name] is not { Length: > 0 } text)
            {
                continue;
            }

            var read = field.Read(form.Service<PreferenceBook>().Present, text);
            if (read.Ok)
            {
                own[field.Name] = text;
            }
            else
            {
                faults[field.Name] = PreferenceWords.Fault(field, text, read.Because, form.Visit.Reader);
            }
        }

        return own;
    }

    /// <summary>
    /// A secret that is left empty stays as it was, so that a token can be renewed without typing the address again. With another
    /// address it does not: what one relay was told is no other's business.
    /// </summary>
    private static async Task<IResult> ChannelAsync(SentForm form, Person person, PersonalChannelKind kind, CancellationToken stop)
    {
        var book = form.Service<WishBook>();
        var wishes = book.Of(person) ?? New(form);
        var before = book.Values(wishes, kind);
        if (kind.Fields.Any(field => field.IsNeeded && form[$"{kind.Id}-{field.Name}"] is { Length: > 0 } typed && typed != before?.GetValueOrDefault(field.Name)))
        {
            before = null;
        }

        var faults = new Dictionary<string, string>();
        var values = new Dictionary<string, string>(StringComparer.Ordinal);
        foreach (var field in kind.Fields)
        {
            var key = $"{kind.Id}-{field.Name}";
            var isForgotten = form.Fields["forget"].Contains(key);
            var kept = field.IsSecret && !isForgotten ? before?.GetValueOrDefault(field.Name) : null;
            var text = form[key] is { Length: > 0 } typed ? typed : kept ?? "";
            if (text.Length == 0 ? field.IsNeeded : !field.Fits(text))
            {
                faults[key] = PersonalText.Of(text.Length == 0 ? "needed" : key + "-fault", field.IsSecret ? "" : text);
            }
            else if (text.Length > 0)
            {
                values[field.Name] = text;
            }
        }

        if (faults.Count > 0)
        {
            return Again(form, person, faults);
        }

        await book.KeepAsync(person, wishes with { Channels = new Dictionary<string, string>(wishes.Channels) { [kind.Id] = book.Seal(values) } }, stop);
        return FormHosting.Back(form, $"{Path}?done={kind.Id}#{kind.Id}");
    }

    /// <summary>Who never said anything has the house's night.</summary>
    private static NoticeWishes New(SentForm form) => New(form.Context);

    private static NoticeWishes New(HttpContext context)
    {
        var house = context.RequestServices.GetRequiredService<PreferenceBook>().Present;
        return new NoticeWishes { QuietFrom = house.QuietFrom, QuietUntil = house.QuietUntil };
    }

    private static WishView ViewOf(HttpContext context, Person person)
    {
        var services = context.RequestServices;
        var book = services.GetRequiredService<WishBook>();
        return new WishView(person, book.Of(person) ?? New(context), book, services.GetRequiredService<ChannelTests>(), services.GetRequiredService<Store>().ReadOutbox(NewestNotices))
        {
            House = services.GetRequiredService<PreferenceBook>().Present,
            HasCalendar = services.GetRequiredService<CalendarBook>().Has(person),
        };
    }

    private static Microsoft.AspNetCore.Http.HttpResults.RazorComponentResult<WishPage> Again(SentForm form, Person person, Dictionary<string, string> faults)
    {
        // What was typed comes back, except secrets.
        var secrets = PersonalChannelCatalog.All.SelectMany(kind => kind.Fields.Where(field => field.IsSecret).Select(field => $"{kind.Id}-{field.Name}")).ToHashSet(StringComparer.Ordinal);
        var typed = form.Fields.Keys.Where(key => key != FormHosting.TokenField && !secrets.Contains(key)).ToDictionary(key => key, key => form[key], StringComparer.Ordinal);
        return FormHosting.Again<WishPage>(form, new() { ["View"] = ViewOf(form.Context, person) with { Typed = typed, Faults = faults } });
    }
}

/// <summary>What the page of a person's notices stands on.</summary>
/// <param name="Person">Whose it is.</param>
/// <param name="Wishes">As they count now.</param>
/// <param name="Book">For what can be shown of channels.</param>
/// <param name="Tests">The last tests.</param>
/// <param name="Outbox">The newest notices, newest first.</param>
public sealed record WishView(Person Person, NoticeWishes Wishes, WishBook Book, ChannelTests Tests, IReadOnlyList<OutboxRow> Outbox)
{
    /// <summary>What counts in the house.</summary>
    public required PreferenceSet House { get; init; }

    /// <summary>What was typed, by field; never a secret.</summary>
    public IReadOnlyDictionary<string, string> Typed { get; init; } = new Dictionary<string, string>();

    /// <summary>What is wrong, by field.</summary>
    public IReadOnlyDictionary<string, string> Faults { get; init; } = new Dictionary<string, string>();

    /// <summary>Whether the person's calendar has an address.</summary>
    public bool HasCalendar { get; init; }

    /// <summary>The calendar's address, just made; null otherwise.</summary>
    public string? CalendarMade { get; init; }

    /// <summary>What was done.</summary>
    public string Done { get; init; } = "";
}
