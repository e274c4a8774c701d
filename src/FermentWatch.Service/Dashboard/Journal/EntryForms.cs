using System.Security.Cryptography;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Access;
using FermentWatch.Service.Dashboard.Forms;
using FermentWatch.Service.Pipeline;
using Microsoft.AspNetCore.Http.HttpResults;

namespace FermentWatch.Service.Dashboard.Journal;

/// <summary>Takes what is written into a batch's journal, corrected and taken back.</summary>
internal static class EntryForms
{
    // The clocks of a phone and of the service differ by a little.
    private static readonly TimeSpan AheadAllowed = TimeSpan.FromMinutes(5);

    private static readonly TimeSpan JustWritten = TimeSpan.FromMinutes(10);

    /// <summary>A mark by which a form that is sent twice is written once.</summary>
    public static string NewOnce() => Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(8));

    public static IResult ShowNew(HttpContext context, string id, string? kind)
    {
        var visit = DashboardHosting.VisitOf(context);
        return visit.Snapshot.Find(id) is { } entry && JournalCatalog.Find(kind ?? "") is { } known
            ? !TastingRule.MayWrite(context, known.Kind) ? AccessAnswers.Forbidden(context) : JournalHosting.Page<EntryPage>(context, new() { ["Visit"] = visit, ["Entry"] = entry, ["Kind"] = known, ["Typed"] = Filled(context, known, visit) })
            : JournalHosting.NotFound(context, visit);
    }

    public static IResult ShowCorrect(HttpContext context, string id, long entry)
    {
        var visit = DashboardHosting.VisitOf(context);
        if (visit.Snapshot.Find(id) is not { } board || Active(context.RequestServices.GetRequiredService<Store>(), id, entry) is not { } line)
        {
            return JournalHosting.NotFound(context, visit);
        }

        if (!TastingRule.MayChange(context, line.Entry))
        {
            return AccessAnswers.Forbidden(context);
        }

        var typed = new Dictionary<string, string>(StringComparer.Ordinal)
        {
            ["at"] = LocalTime.Typed(line.Entry.At, visit.Reader),
            ["text"] = FilledWords.Text(line.Entry, visit.Reader),
            ["filled"] = line.Entry.Filled is { } filled ? FilledWords.Written(filled) : "",
            ["because"] = visit.Now - line.WrittenAt.ToDateTimeOffset() < JustWritten ? JournalText.Of("because-details") : "",
        };
        var kind = JournalCatalog.Of(line.Entry.Kind);
        if (kind.Field("gravity") is not null && line.Entry is { Gravity: { } gravity, Values.Count: 0 })
        {
            typed["gravity"] = visit.Reader.FieldText(gravity.Value, "SG", 3);
        }

        foreach (var value in line.Entry.Values)
        {
            typed[value.Field] = value.Word ?? (kind.Field(value.Field) is { } field ? visit.Reader.FieldText(value.Number ?? 0, field.Unit, field.Digits) : "");
        }

        return JournalHosting.Page<EntryPage>(
            context, new() { ["Visit"] = visit, ["Entry"] = board, ["Kind"] = kind, ["Old"] = line.Entry, ["Typed"] = typed });
    }

    /// <summary>One tap: the entry with the time of now and nothing else.</summary>
    public static Task<IResult> TapAsync(SentForm form, CancellationToken cancellation)
    {
        var kind = JournalCatalog.Find(form["kind"]);
        return Board(form) is { } entry && kind is { IsOneTap: true }
            ? WriteAsync(form, entry, kind, null, Now(form.Visit), new JournalDraft(kind.Kind, EventTime.From(form.Visit.Now), ""), cancellation)
            : Task.FromResult(JournalHosting.NotFound(form.Context, form.Visit));
    }

    public static Task<IResult> NewAsync(SentForm form, CancellationToken cancellation) =>
        Board(form) is { } entry && JournalCatalog.Find(form.Context.Request.Query["kind"].ToString()) is { } kind
            ? TastingRule.MayWrite(form.Context, kind.Kind) ? SentAsync(form, entry, kind, null, cancellation) : Task.FromResult(AccessAnswers.Forbidden(form.Context))
            : Task.FromResult(JournalHosting.NotFound(form.Context, form.Visit));

    public static Task<IResult> CorrectAsync(SentForm form, CancellationToken cancellation) =>
        Board(form) is { } entry && Active(form.Service<Store>(), IdOf(form), EntryOf(form)) is { } line
            ? TastingRule.MayChange(form.Context, line.Entry)
                ? SentAsync(form, entry, JournalCatalog.Of(line.Entry.Kind), line.Entry, cancellation)
                : Task.FromResult(AccessAnswers.Forbidden(form.Context))
            : Task.FromResult(JournalHosting.NotFound(form.Context, form.Visit));

    public static async Task<IResult> UndoAsync(SentForm form, CancellationToken cancellation)
    {
        var (id, number) = (IdOf(form), EntryOf(form));
        if (Board(form) is null || Active(form.Service<Store>(), id, number) is not { } line)
        {
            return JournalHosting.NotFound(form.Context, form.Visit);
        }

        if (!TastingRule.MayChange(form.Context, line.Entry))
        {
            return AccessAnswers.Forbidden(form.Context);
        }

        await form.Service<Store>().UndoJournalAsync(new BatchId(id), number, cancellation);
        form.Service<PipelineSignals>().Touch([new BatchId(id)]);
        return FormHosting.Back(form, $"batch/{id}?undone={number}#journal");
    }

    private static async Task<IResult> SentAsync(SentForm form, BoardEntry entry, JournalKindEntry kind, JournalEntry? old, CancellationToken cancellation)
    {
        var numbers = new FieldNumbers(form.Visit.Reader, name => old?.Number(name) ?? (name == "gravity" && old?.Values.Count == 0 ? old.Gravity?.Value : null));
        var read = JournalForm.Read(kind, name => form[name], numbers.Read);
        var faults = new Dictionary<string, FieldFault>(read.Faults, StringComparer.Ordinal);
        var typed = kind.Fields.Select(field => field.Name).Concat(["at", "text", "filled", "because", "once"]).ToDictionary(name => name, name => form[name], StringComparer.Ordinal);
        var at = old is not null && form["at"] == LocalTime.Typed(old.At, form.Visit.Reader) ? old.At : LocalTime.Read(form["at"], form.Visit.Reader);
        if (at is not { } time)
        {
            faults["at"] = form["at"].Length == 0 ? FieldFault.Missing : FieldFault.NoNumber;
        }
        else if (time > EventTime.From(form.Visit.Now + AheadAllowed))
        {
            faults["at"] = FieldFault.OutOfRange;
        }

        if (old is not null && form["because"].Length is 0 or > JournalForm.LongestText)
        {
            faults["because"] = FieldFault.Missing;
        }

        var (photo, photoFault) = kind.TakesPhoto ? await PhotoForms.ReadAsync(form, cancellation) : default;
        if (photo is not null || old?.Photo is not null)
        {
            // The picture is something: words beside it are not needed.
            if (kind.NeedsSomething && faults.GetValueOrDefault(kind.Asked) == FieldFault.Missing)
            {
                faults.Remove(kind.Asked);
            }
        }

        if (faults.Count > 0 || photoFault is not null)
        {
            // A browser keeps no chosen file.
            return Again(form, entry, kind, old, typed, faults, null, photoFault ?? (photo is null ? null : JournalText.Of("photo-again")));
        }

        var draft = new JournalDraft(kind.Kind, at!.Value, form["text"], read.Gravity, old?.Id)
        {
            Values = read.Values,
            Filled = FilledWords.Kept(form["text"], form["filled"], form.Visit.Reader),
            Because = old is null ? null : form["because"],
            Photo = photo,
            KeptPhoto = old?.Photo,
        };
        return await WriteAsync(form, entry, kind, old, typed, draft, cancellation);
    }

    private static async Task<IResult> WriteAsync(
        SentForm form, BoardEntry entry, JournalKindEntry kind, JournalEntry? old, IReadOnlyDictionary<string, string> typed, JournalDraft draft, CancellationToken cancellation)
    {
        var batch = entry.View.Batch.Id;
        var once = form["once"] is { Length: > 0 and <= 40 } mark ? $"page-{batch}-{kind.Key}-{old?.Id}-{mark}" : null;
        try
        {
            var number = await form.Service<Store>().AppendJournalAsync(batch, draft with { By = form.Context.SignedIn()?.Person.Name }, once, cancellation);
            form.Service<PipelineSignals>().Touch([batch]);
            return FormHosting.Back(form, $"batch/{batch}?written={number}#journal");
        }
        catch (StorageUnavailableException failure)
        {
            return Again(
                form, entry, kind, old, typed, new Dictionary<string, FieldFault>(), JournalText.Of("not-written", failure.Message),
                PhotoForms.IsSent(form) ? JournalText.Of("photo-again") : null);
        }
    }

    private static RazorComponentResult<EntryPage> Again(
        SentForm form, BoardEntry entry, JournalKindEntry kind, JournalEntry? old,
        IReadOnlyDictionary<string, string> typed, IReadOnlyDictionary<string, FieldFault> faults, string? problem, string? photoFault = null) =>
        FormHosting.Again<EntryPage>(form, new()
        {
            ["Entry"] = entry,
            ["Kind"] = kind,
            ["Old"] = old,
            ["Typed"] = typed,
            ["Faults"] = faults,
            ["Problem"] = problem,
            ["PhotoFault"] = photoFault,
        });

    private static Dictionary<string, string> Now(Visit visit) => new(StringComparer.Ordinal) { ["at"] = LocalTime.Typed(EventTime.From(visit.Now), visit.Reader) };

    // A link may fill in the form, as a worksheet's does; nothing is written before it is sent.
    private static Dictionary<string, string> Filled(HttpContext context, JournalKindEntry kind, Visit visit)
    {
        var typed = Now(visit);
        if (FilledWords.Read(context.Request.Query["filled"].ToString()) is { } filled && FilledWords.Of(filled, visit.Reader) is { } words)
        {
            (typed["text"], typed["filled"]) = (words, FilledWords.Written(filled));
        }

        foreach (var name in kind.Fields.Select(field => field.Name).Append("text"))
        {
            if (context.Request.Query[name].ToString() is { Length: > 0 and <= JournalForm.LongestText } text)
            {
                typed[name] = text;
            }
        }

        return typed;
    }

    private static BoardEntry? Board(SentForm form) => form.Visit.Snapshot.Find(IdOf(form));

    private static string IdOf(SentForm form) => form.Context.Request.RouteValues["id"]?.ToString() ?? "";

    private static long EntryOf(SentForm form) =>
        long.TryParse(form.Context.Request.RouteValues["entry"]?.ToString(), System.Globalization.NumberStyles.None, System.Globalization.CultureInfo.InvariantCulture, out var number) ? number : 0;

    /// <summary>The entry where it counts: what was replaced or taken back is not replaced again.</summary>
    private static JournalLine? Active(Store store, string batch, long entry)
    {
        var lines = store.ReadJournalLines(new BatchId(batch));
        var active = JournalReading.Active([.. lines.Select(line => line.Entry)], new EventTime(long.MaxValue));
        return active.Any(one => one.Id == entry) ? lines.First(line => line.Entry.Id == entry) : null;
    }
}
