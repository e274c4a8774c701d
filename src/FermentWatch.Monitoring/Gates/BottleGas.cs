using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.CarbonDioxide;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Monitoring.Gates;

/// <summary>Pressure in a closed bottle if what is left ferments anyway.</summary>
/// <param name="Cool">At 20 °C, above the air, with the least sugar meant. [bar]</param>
/// <param name="CoolMost">At 20 °C with the most sugar. [bar]</param>
/// <param name="Warm">At 30 °C with the most sugar, the error of the formula added. [bar]</param>
/// <param name="Because">The figures and what they stand on, in words.</param>
internal sealed record BottleGas(double Cool, double CoolMost, double Warm, Reason Because)
{
    /// <summary>Gas above the wine over the wine, as in a full wine bottle.</summary>
    private const double HeadspaceRatio = 0.03;

    /// <summary>Malic acid of a must whose malolactic fermentation was not seen to end. [g/L] Common practice, no source.</summary>
    private const double MalicGramsPerLiter = 2;

    /// <summary>Taken where no temperature is known: wine from a cold cellar holds more gas. [°C] Common practice, no source.</summary>
    private const double AssumedCelsius = 10;

    private static readonly Temperature Room = Temperature.FromCelsius(20);
    internal static readonly Temperature HotDay = Temperature.FromCelsius(30);

    /// <summary>The pressure, or the reason why it can't be told.</summary>
    /// <remarks>
    /// <b>Equation.</b> <see cref="StartingGas"/> at the coldest temperature of the last weeks unless degassing is written down, all sugar fermented
    /// (<see cref="ClosedBottle.AfterRefermentation"/>), in a bottle filled and closed at 20 °C. Malic acid counts in the upper figure where malolactic fermentation
    /// was not seen to end.
    /// </remarks>
    public static (BottleGas? Gas, Reason? NotYet) Of(GateFacts facts)
    {
        if (FermentableSugar.Of(facts) is not { } sugar)
        {
            return (null, Reason.Of("gate-pressure-no-sugar"));
        }

        if (facts.View.Alcohol is not { } alcohol)
        {
            return (null, Reason.Of("gate-pressure-no-alcohol"));
        }

        var (start, from) = Start(facts, alcohol.Value);
        var bottle = new ClosedBottle(HeadspaceRatio, Room, alcohol.Value, SugarConcentration.FromGramsPerLiter(0));
        var malic = facts.View.Batch.Kind is FermentKind.Mead || facts.Last(JournalKind.MalolacticFinished) is not null ? 0 : MalicGramsPerLiter;
        var least = ClosedBottle.AfterRefermentation(start.Value, SugarConcentration.FromGramsPerLiter(sugar.Low), 0);
        var most = ClosedBottle.AfterRefermentation(start.Value, SugarConcentration.FromGramsPerLiter(sugar.High), malic);
        var cool = bottle.TotalPressure(least, Room).Value.GaugeBar;
        var coolMost = bottle.TotalPressure(most, Room).Value.GaugeBar;
        var hot = bottle.TotalPressure(most, HotDay);
        var warm = hot.Value.GaugeBar + hot.Tolerance;
        return (
            new(
                cool,
                coolMost,
                warm,
                Reason.Of(
                    malic > 0 ? "gate-pressure-malic" : "gate-pressure",
                    new ReasonValue.Figure(cool, 1),
                    new ReasonValue.Figure(coolMost, 1),
                    new ReasonValue.Figure(warm, 1),
                    new ReasonValue.Figure(sugar.Low, 0),
                    new ReasonValue.Figure(sugar.High, 0),
                    new ReasonValue.Words(sugar.From),
                    new ReasonValue.Figure(start.Value.GramsPerLiter, 1),
                    new ReasonValue.Words(from),
                    new ReasonValue.Degrees(Room.Celsius),
                    new ReasonValue.Degrees(HotDay.Celsius))),
            null);
    }

    private static (Computed<MassConcentration> Gas, Reason From) Start(GateFacts facts, AlcoholByVolume alcohol)
    {
        var none = SugarConcentration.FromGramsPerLiter(0);
        if (facts.Last(JournalKind.Stirred) is { } degassed && facts.IsFresh(degassed.At))
        {
            return (StartingGas.Of(null, degassed: true, Room, alcohol, none), Reason.Of("gate-gas-degassed", new ReasonValue.Moment(degassed.At)));
        }

        double? coldest = null;
        foreach (var point in facts.View.Temperature)
        {
            coldest = facts.IsFresh(point.At) ? Math.Min(coldest ?? 100, point.Lowest.Celsius) : coldest;
        }

        var celsius = Math.Clamp(coldest ?? AssumedCelsius, 0, 40);
        return (
            StartingGas.Of(null, degassed: false, Temperature.FromCelsius(celsius), alcohol, none),
            Reason.Of(coldest is null ? "gate-gas-assumed" : "gate-gas-coldest", new ReasonValue.Degrees(celsius)));
    }
}
