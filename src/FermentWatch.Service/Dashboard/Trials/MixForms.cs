using System.Globalization;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Service.Dashboard.Forms;

namespace FermentWatch.Service.Dashboard.Trials;

/// <summary>Ticks on the mixing sheet.</summary>
internal static class MixForms
{
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

    /// <summary>The mark of a stock among what is mixed.</summary>
    public static string StockMark(string additive) => "stock-" + additive;
}
