using FermentWatch.Oenology.CarbonDioxide;
using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>What a second ferment happens in.</summary>
internal enum BottleKind
{
    Still,
    Beer,
    Sparkling,
    Plastic,
    Other,
}

/// <summary>Sugar for a second ferment in the bottle.</summary>
internal static class PrimingSugarEntry
{
    private static readonly NumberInput TemperatureInput = new("temperature", "Temperature of the wine", QuantityKind.Temperature, -5, 40, Help: "The warmest since it last fermented: what left then is gone.");
    private static readonly NumberInput Target = new("target-pressure", "Pressure wanted at 20 °C", QuantityKind.Pressure, 0.1, 6, Help: "Above the air.");
    private static readonly NumberInput Water = new("honey-water", "Water of the honey", QuantityKind.Percent, 13, 25, Usual: 17.2);
    private static readonly NumberInput Rating = new("rated-pressure", "Pressure the bottle's maker rates it for", QuantityKind.Pressure, 0, 20, Optional: true);

    private static readonly ChoiceInput<PrimingKind> Kind = new(
        "sweetener",
        "Sugar",
        [(PrimingKind.Sucrose, "Table sugar"), (PrimingKind.Dextrose, "Dextrose, as sold (monohydrate)"), (PrimingKind.DextroseAnhydrous, "Dextrose without water"), (PrimingKind.Honey, "Honey")],
        PrimingKind.Sucrose);

    private static readonly ChoiceInput<BottleKind> Bottle = new(
        "bottle",
        "Bottle",
        [(BottleKind.Still, "Still wine bottle"), (BottleKind.Beer, "Beer bottle"), (BottleKind.Sparkling, "Sparkling wine bottle"), (BottleKind.Plastic, "Plastic bottle for carbonated drinks"), (BottleKind.Other, "Other, rated for pressure")]);

    private static readonly NumberOutput There = new("gas-there", "Carbon dioxide already there", QuantityKind.Dose, 2);
    private static readonly NumberOutput Dose = new("dose", "Sugar for a liter", QuantityKind.Dose, 1);
    private static readonly NumberOutput Mass = new("mass", "Sugar for the batch", QuantityKind.Mass, 0);
    private static readonly NumberOutput Alcohol = new("alcohol-gain", "Alcohol that it adds", QuantityKind.Alcohol, 1);
    private static readonly NumberOutput At30 = new("pressure-30", "Gauge pressure at 30 °C", QuantityKind.Pressure, 1);
    private static readonly TextOutput Class = new("class", "By law at 20 °C");

    /// <summary>The entry.</summary>
    public static Worksheet Sheet { get; } = new()
    {
        Name = "priming-sugar",
        Subject = WorksheetSubject.Bottling,
        Title = "Priming sugar for a second ferment in the bottle",
        Purpose = "Sugar for a wanted pressure, counted from the gas that is already there. Only for wine that has fermented out, in bottles whose maker rates them for the pressure of the warmest day.",
        Inputs = [GasFields.Volume, GasFields.Alcohol, TemperatureInput, Target, Kind, Water, Bottle, Rating, GasFields.Degassed, GasFields.Measured, GasFields.Sugar, GasFields.Bottle, GasFields.Headspace],
        Outputs = [There, Dose, Mass, Alcohol, At30, Class],
        Sources =
        [
            .. GasFields.Sources,
            WorksheetSource.Computed("gas of the sugar by stoichiometry"),
            WorksheetSource.Published("WhiteDoner1980", "sugars of honey"),
            WorksheetSource.Published("EU13082013", "classes of sparkling wine"),
            WorksheetSource.Published("WINETECH2020", "16.83 g/L of sugar for a percent of alcohol"),
            WorksheetSource.Published("AAOCorks", "how to open a bottle under pressure"),
            WorksheetSource.CommonPractice("0.5 g/L left after degassing"),
        ],
        Cautions = [Caution.BottlePressure, Caution.OpeningBottle, Caution.SteadyHydrometer],
        Examples =
        [
            WorkedExample.Of("volume=20 alcohol=12 temperature=20 target-pressure=2 bottle=sparkling rated-pressure=10", "computed by hand: 2 bar of gas above the shut-in air x (1.4437 + 0.0530) = 2.993 g/L; less 1.463 there, over 0.5143", new("gas-there", 1.463, 0.01), new("dose", 2.98, 0.02), new("mass", 59.5, 0.4)),
            WorkedExample.Saying("volume=20 alcohol=12 temperature=20 target-pressure=2 bottle=still", "still bottles carry no pressure rating", "bottle-not-rated"),
            WorkedExample.Saying("volume=20 alcohol=11 temperature=12 target-pressure=5 bottle=beer rated-pressure=6", "5 bar at 20 °C are above 6 at 30 °C", "above-rating"),
        ],
        Compute = Compute,
    };

    private static WorksheetAnswer Compute(WorksheetValues values)
    {
        if (values.Of(Bottle) is BottleKind.Still)
        {
            return WorksheetAnswer.Refuse("bottle-not-rated", "Still wine bottles carry no pressure rating: no sugar is computed for them. Take bottles that their maker rates for pressure.");
        }

        var bottle = GasFields.Closed(values);
        var (cool, warm) = (Temperature.FromCelsius(20), Temperature.FromCelsius(30));
        var there = GasFields.Start(values, TemperatureInput);
        var wanted = bottle.GasFor(Pressure.FromGaugeBar(values.Of(Target)), cool);
        var water = values.Of(Water) / 100;
        var dose = PrimingSugar.For(wanted, there, values.Of(Kind), water);
        var inAll = there.Value > wanted.Value ? there.Value : wanted.Value;
        var hot = bottle.TotalPressure(inAll, warm);
        var notices = new List<WorksheetNotice>();
        if (values.Maybe(Rating) is not { } rating)
        {
            notices.Add(WorksheetNotice.Warning("ask-rating", $"Ask the bottle's maker: it must be rated for clearly more than the {hot.Value.GaugeBar:F1} bar of a day of 30 °C. One-way bottles are not meant to be filled under pressure again."));
        }
        else if (hot.Value.GaugeBar > rating)
        {
            return WorksheetAnswer.Refuse("above-rating", $"At 30 °C it would reach {hot.Value.GaugeBar:F1} bar; the bottle is rated for {rating:F1} bar. Aim lower or take other bottles.");
        }

        if (there.Value > wanted.Value)
        {
            notices.Add(WorksheetNotice.Warning("already-there", "The wine already holds more gas than wanted: no sugar is needed."));
        }

        GasFields.NoteExtrapolated(notices, dose.Validity, hot.Validity);
        var gained = dose.Value.GramsPerLiter * PrimingSugar.CarbonDioxidePerGram(values.Of(Kind), water) / CarbonDioxideYield.PerHexose / PrimingSugar.HexosePerAlcoholPercent;
        return new(
            [
                There.Is(there.Value.GramsPerLiter, there.Tolerance / 1000, there.Validity),
                Dose.Is(dose.Value.GramsPerLiter, dose.Tolerance / 1000, dose.Validity),
                Mass.Is(dose.Value.GramsIn(values.Volume(GasFields.Volume)), dose.Tolerance / 1000 * values.Of(GasFields.Volume), dose.Validity),
                Alcohol.Is(gained),
                At30.Is(hot.Value.GaugeBar, hot.Tolerance, hot.Validity),
                Class.Is(SparklingClasses.Words(SparklingClasses.Of(Math.Round(bottle.TotalPressure(inAll, cool).Value.GaugeBar, 6)))),
            ],
            notices);
    }
}
