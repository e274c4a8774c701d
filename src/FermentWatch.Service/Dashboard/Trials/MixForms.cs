using System.Globalization;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.BenchTrials;
using FermentWatch.Service.Access;
using FermentWatch.Service.Dashboard.Forms;
using FermentWatch.Service.Dashboard.Journal;
using FermentWatch.Service.Dashboard.Trials.Tasting;
using FermentWatch.Service.Pipeline;

namespace FermentWatch.Service.Dashboard.Trials;

/// <summary>Ticks on the mixing sheet.</summary>
internal static class MixForms
{
    /// <summary>The mark of jars that were filled.</summary>
    public const string Jars = "jars";

    /// <summary>A stock or a glass is mixed, or it is not after all.</summary>
    public static async Task<IResult> MixedAsync(SentForm form, CancellationToken cancellation)
    {
        if (TrialHosting.Find(form.Context) is not { } found)
        {
            return TrialHosting.NotFound(form.Context);
        }

        var code = form["code"];
        if (found.Trial.Flights.Any(flight => flight.Find(code) is not null) || found.Trial.Stocks.Any(stock => StockMark(stock.AdditiveCode) == code))
        {
            await form.Service<Store>().ChangeTrialAsync(
                found.Id,
                was => was with { Work = was.Work with { Mixed = was.Work.Mixed.Contains(code) ? was.Work.Mixed.Remove(code) : was.Work.Mixed.Add(code) } },
                cancellation);
        }

        return FormHosting.Back(form, string.Create(CultureInfo.InvariantCulture, $"trials/{found.Id}#mix"));
    }

    public static async Task<IResult> GiveUpAsync(SentForm form, CancellationToken cancellation)
    {
        if (TrialHosting.Find(form.Context) is not { } found)
        {
            return TrialHosting.NotFound(form.Context);
        }

        var store = form.Service<Store>();
        await store.EndTastingAsync(found.Id, cancellation);
        await store.ChangeTrialAsync(found.Id, was => was.State is TrialState.Done ? was : was with { State = TrialState.GivenUp }, cancellation);
        return FormHosting.Back(form, "trials");
    }

    /// <summary>The jars of a held trial stand from today: their days are counted anew, and the book reminds of them.</summary>
    public static async Task<IResult> JarsAsync(SentForm form, CancellationToken cancellation)
    {
        if (TrialHosting.Find(form.Context) is not { Trial.Held: not null } found)
        {
            return TrialHosting.NotFound(form.Context);
        }

        var store = form.Service<Store>();
        var today = DateOnly.FromDateTime(form.Visit.Reader.Local(form.Visit.Now).DateTime);
        var (text, filled) = FilledWords.Begun(FilledWords.OfTrial("journal-jars", new FilledValue("jars", found.Trial.Current.Glasses.Length, 0, null)), form.Visit.Reader);
        var draft = new JournalDraft(JournalKind.JarsFilled, EventTime.From(form.Visit.Now), text)
        {
            Filled = filled,
            Values = ValueList.Of(DoorForms.Sample(found.Trial)),
            By = form.Context.SignedIn()?.Person.Name,
        };
        await store.AppendJournalAsync(found.Batch, draft, string.Create(CultureInfo.InvariantCulture, $"trial-{found.Id}-jars"), cancellation);
        await store.ChangeTrialAsync(
            found.Id,
            was => was.Work.Written.Contains(Jars) ? was : was with { Trial = was.Trial with { Held = HeldTrial.FilledOn(today) }, Work = was.Work with { Written = was.Work.Written.Add(Jars) } },
            cancellation);
        form.Service<PipelineSignals>().Touch([found.Batch]);
        return FormHosting.Back(form, string.Create(CultureInfo.InvariantCulture, $"trials/{found.Id}#mix"));
    }

    /// <summary>The mark of a stock among what is mixed.</summary>
    public static string StockMark(string additive) => "stock-" + additive;
}
