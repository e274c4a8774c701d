using System.Globalization;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.BenchTrials;
using FermentWatch.Service.Access;
using FermentWatch.Service.Dashboard.Forms;
using FermentWatch.Service.Dashboard.Journal;
using FermentWatch.Service.Pipeline;
using Microsoft.AspNetCore.DataProtection;

namespace FermentWatch.Service.Dashboard.Trials.Tasting;

/// <summary>What the maker does about a tasting: lets guests in, frees a place, closes it.</summary>
internal static class DoorForms
{
    private const string Purpose = "FermentWatch.Tasting.Code.1";

    public static async Task<IResult> ChangeAsync(SentForm form, CancellationToken cancellation)
    {
        if (TrialHosting.Find(form.Context) is not { } found)
        {
            return TrialHosting.NotFound(form.Context);
        }

        var store = form.Service<Store>();
        var page = string.Create(CultureInfo.InvariantCulture, $"trials/{found.Id}/tasting");
        switch (form["do"])
        {
            case "open" when found.State is TrialState.Mixing or TrialState.Tasting or TrialState.Told:
                await BeginAsync(form, found, cancellation);
                var code = Secrets.NewCode();
                // The code lives by the machine's clock, as sign-ins do.
                await store.OpenTastingAsync(found.Id, Secrets.Hash(code), Protector(form.Context).Protect(code), ReceivedAt.From(form.Service<TimeProvider>().GetUtcNow() + GuestDoor.Lifetime), cancellation);
                break;
            case "end":
                await store.EndTastingAsync(found.Id, cancellation);
                break;
            case "free":
                await store.FreeSeatAsync(new TastingSeat(found.Id, form["taster"]), cancellation);
                break;
            case "close":
                await store.EndTastingAsync(found.Id, cancellation);
                await store.ChangeTrialAsync(found.Id, was => was.State is TrialState.Tasting or TrialState.Mixing ? was with { State = TrialState.Told } : was, cancellation);
                page = string.Create(CultureInfo.InvariantCulture, $"trials/{found.Id}/result");
                break;
        }

        form.Service<Board>().Renew(Board.TopicOfTrial(found.Id));
        return FormHosting.Back(form, page);
    }

    /// <summary>Tasting begins: what the glasses took is written into the book, once a flight.</summary>
    public static async Task BeginAsync(SentForm form, StoredTrial found, CancellationToken cancellation)
    {
        var store = form.Service<Store>();
        await store.ChangeTrialAsync(found.Id, was => was.State is TrialState.Mixing or TrialState.Told ? was with { State = TrialState.Tasting } : was, cancellation);
        var flight = found.Trial.Current;
        var (text, filled) = FilledWords.Begun(
            FilledWords.OfTrial("journal-sample", new("question", null, 0, TrialWords.QuestionCode(found.Trial)), new("glasses", flight.Glasses.Length, 0, null)), form.Visit.Reader);
        var draft = new JournalDraft(JournalKind.Tasted, EventTime.From(form.Visit.Now), text)
        {
            Filled = filled,
            // Jars took their wine when they were filled.
            Values = found.Work.Written.Contains(MixForms.Jars) ? ValueList.Of<JournalValue>() : ValueList.Of(Sample(found.Trial)),
            By = form.Context.SignedIn()?.Person.Name,
        };
        await store.AppendJournalAsync(found.Batch, draft, string.Create(CultureInfo.InvariantCulture, $"trial-{found.Id}-sample-{flight.Number}"), cancellation);
        form.Service<PipelineSignals>().Touch([found.Batch]);
    }

    /// <summary>Wine that the glasses take from the batch, as a field of the book.</summary>
    public static JournalValue Sample(BenchTrial trial) =>
        new("sample", Math.Clamp(Math.Round(SampleBudget.Of(trial, trial.Current).WineMilliliters), 1, 5000), null);

    /// <summary>The code that guests come in by now; null when there is none.</summary>
    public static string? CodeOf(HttpContext context, long trial) =>
        context.RequestServices.GetRequiredService<Store>().ReadTasting(trial) is { } door ? Unprotected(context, door.Code) : null;

    // Keys that were lost make the code unreadable, not the page: a new one is made.
    private static string? Unprotected(HttpContext context, string code)
    {
        try
        {
            return Protector(context).Unprotect(code);
        }
        catch (global::System.Security.Cryptography.CryptographicException)
        {
            return null;
        }
    }

    private static IDataProtector Protector(HttpContext context) => context.RequestServices.GetRequiredService<IDataProtectionProvider>().CreateProtector(Purpose);
}
