using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Service.Backtest;

/// <summary>Looks at a recording at a cut as the running service would have, and writes down what it says.</summary>
internal static class Predictor
{
    /// <summary>The prediction at a cut.</summary>
    public static Prediction At(ReplayFolder folder, ReplayCut cut)
    {
        var view = View(folder, cut);
        var forecast = view.Forecast ?? Forecaster.At(Unread(view, folder.Prior));
        var ends = forecast.FinalGravity;
        var isStuck = view.Stop.IsStuck;
        return new Prediction(
            folder.Ferment,
            cut.Number,
            new Quantiles<double?>(Rounded(ends.P05), Rounded(ends.P25), Rounded(ends.P50), Rounded(ends.P75), Rounded(ends.P95)),
            isStuck
                ? new Quantiles<EventTime?>(null, null, null, null, null)
                : new Quantiles<EventTime?>(
                    WholeSecond(forecast.Finish.P05),
                    WholeSecond(forecast.Finish.P25),
                    WholeSecond(forecast.Finish.P50),
                    WholeSecond(forecast.Finish.P75),
                    WholeSecond(forecast.Finish.P95)),
            isStuck ? "stuck" : view.Stop.IsFinished ? "finished" : StateOf(view.Phase.Phase),
            view.Stop.IsReadyToStabilize,
            TemperatureSpells.ReachesIntoTheLastHours(view),
            forecast.NotYet?.Code);
    }

    // What is scored is what is written.
    private static double? Rounded(SpecificGravity gravity) => Math.Round(gravity.Value, 6);

    private static EventTime? WholeSecond(EventTime? time) =>
        time is { } at ? new EventTime(at.UnixMicroseconds - (at.UnixMicroseconds % 1_000_000)) : null;

    /// <summary>The view as the running service makes it.</summary>
    public static BatchView View(ReplayFolder folder, ReplayCut cut) =>
        BatchAnalysis.View(folder.FactsAt(cut), ViewSettings.Default, folder.Prior, cut.At);

    /// <summary>Before any gravity is known only the prior can speak; the page stays silent then, a backtest must not.</summary>
    private static ForecastInput Unread(BatchView view, PriorSnapshot prior) => new(
        view.Batch.Kind,
        view.Batch.InoculatedAt,
        view.Batch.OriginalGravity,
        view.Batch.Tolerance,
        view.Gravity,
        view.Temperature,
        view.Events,
        prior,
        BatchAnalysis.GridLine(view.Now));

    // A backtest must name one state: what cannot be told counts as the most usual one.
    private static string StateOf(Phase phase) => phase switch
    {
        Phase.Lag => "lag",
        Phase.Slowing or Phase.Flat => "slowing",
        _ => "active",
    };
}
