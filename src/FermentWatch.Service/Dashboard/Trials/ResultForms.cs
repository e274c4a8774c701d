using System.Globalization;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Oenology.BenchTrials;
using FermentWatch.Service.Dashboard.Forms;

namespace FermentWatch.Service.Dashboard.Trials;

/// <summary>The choice of a glass, or one flight more.</summary>
internal static class ResultForms
{
    public static async Task<IResult> ChooseAsync(SentForm form, CancellationToken cancellation)
    {
        var code = form["code"];
        if (TrialHosting.Find(form.Context) is not { Trial.Free: null } found || !found.Trial.Flights.Any(flight => flight.Find(code) is not null))
        {
            return TrialHosting.NotFound(form.Context);
        }

        var store = form.Service<Store>();
        await store.ChangeTrialAsync(
            found.Id,
            was =>
            {
                // What is in the batch already cannot be chosen otherwise.
                if (was.State is TrialState.Done or TrialState.GivenUp || was.Work.IsDosed)
                {
                    return was;
                }

                var trial = was.Trial.Choose(code);
                return was with { Trial = trial, State = trial.ChosenDoses.IsEmpty ? TrialState.Done : TrialState.ScalingUp, Work = was.Work with { Dosing = null, Steps = [] } };
            },
            cancellation);
        await store.EndTastingAsync(found.Id, cancellation);
        return FormHosting.Back(form, string.Create(CultureInfo.InvariantCulture, $"trials/{found.Id}/scale"));
    }

    public static async Task<IResult> FlightAsync(SentForm form, CancellationToken cancellation)
    {
        if (TrialHosting.Find(form.Context) is not { } found)
        {
            return TrialHosting.NotFound(form.Context);
        }

        await form.Service<Store>().ChangeTrialAsync(
            found.Id,
            was => was.State is TrialState.Told or TrialState.Tasting or TrialState.ScalingUp && !was.Work.IsDosed
                && ResultStory.NextDoses(was.Trial) is { Count: > 0 } doses && TrialPlanning.AddFlight(was.Trial, doses).Trial is { } grown
                    ? was with { Trial = grown with { Chosen = null }, State = TrialState.Mixing, Work = was.Work with { Dosing = null, Steps = [] } }
                    : was,
            cancellation);
        return FormHosting.Back(form, string.Create(CultureInfo.InvariantCulture, $"trials/{found.Id}"));
    }
}
