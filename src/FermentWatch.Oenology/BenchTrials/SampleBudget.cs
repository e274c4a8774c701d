namespace FermentWatch.Oenology.BenchTrials;

/// <summary>What a flight takes from the batch and serves to people.</summary>
/// <param name="WineMilliliters">Wine for glasses, stock and the 100 mL kept. [mL]</param>
/// <param name="ShareOfBatch">The same as a share of the batch. 0 to 1.</param>
/// <param name="PouredMillilitersPerTaster">Poured for each taster. [mL]</param>
/// <param name="EthanolGramsPerTaster">Alcohol in it if nothing is spat out; null when the wine's alcohol is unknown. [g]</param>
public sealed record SampleBudget(double WineMilliliters, double ShareOfBatch, double PouredMillilitersPerTaster, double? EthanolGramsPerTaster)
{
    /// <summary>Share of a batch that a trial should stay under (common practice, no source).</summary>
    public const double UsualShare = 0.03;

    /// <summary>Kept of the winning glass, to compare with the dosed batch. [mL]</summary>
    public const double KeptMilliliters = 100;

    /// <summary>Counts a flight.</summary>
    /// <remarks><b>Equation.</b> Glasses without what the additives bring, stock beyond what the glasses took, and 100 mL; ethanol by
    /// <see cref="DoseArithmetic.EthanolGrams"/>. <b>Check.</b> BenchTrialTests.</remarks>
    public static SampleBudget Of(BenchTrial trial, TrialFlight flight)
    {
        ArgumentNullException.ThrowIfNull(trial);
        ArgumentNullException.ThrowIfNull(flight);
        var request = trial.Request;
        var wine = KeptMilliliters;
        foreach (var glass in flight.Glasses)
        {
            wine += glass.Mix is { } mix
                ? mix.WineMilliliters.Taken + mix.Pours.Where(pour => pour.TopUpWith is StockLiquid.Wine).Sum(pour => pour.TopUpMilliliters.Taken)
                : 0;
        }

        if (trial.Free is { } free)
        {
            wine += free.StartMilliliters;
        }

        wine += trial.Stocks.Where(stock => stock.Liquid is StockLiquid.Wine)
            .Sum(stock => stock.LiquidGrams.Taken / StockPlanning.LiquidDensity(request.Wine, StockLiquid.Wine));
        var poured = flight.Serving is null ? trial.Free?.StartMilliliters ?? 0 : flight.Glasses.Length * request.PourMilliliters;
        return new(
            wine,
            wine / 1000 / request.Wine.VolumeLiters,
            poured,
            request.Wine.AlcoholPercent is { } alcohol ? DoseArithmetic.EthanolGrams(1, poured, alcohol) : null);
    }
}
