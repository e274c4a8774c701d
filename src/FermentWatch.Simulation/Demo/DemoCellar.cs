using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Simulation.Demo;

/// <summary>The demo's cellar: four carboys, each at another stage of its ferment. Names, people and numbers are invented.</summary>
public static class DemoCellar
{
    /// <summary>Name of the cellar.</summary>
    public const string Name = "Low Barn cellar";

    /// <summary>How long the sensors go on after 'now'. [days]</summary>
    public const double DaysAfterNow = 45;

    /// <summary>The vessels, in the order of their labels.</summary>
    public static IReadOnlyList<DemoVessel> Vessels { get; } = [BackFenceWhite(), QuinceMead(), DamsonWine(), HeatherDry()];

    /// <summary>A white wine in its slow last tenth: on which day it ends is already fairly sure.</summary>
    private static DemoVessel BackFenceWhite()
    {
        var plain = FermentScenarios.Plain(SimulatedKind.Wine);
        return new(
            plain with
            {
                Must = plain.Must with { OriginalGravity = SpecificGravity.FromRatio(1.0862), NitrogenMilligramsPerLiter = 190 },
                Yeast = plain.Yeast with { Tolerance = AlcoholByVolume.FromPercent(14), LagHours = 20 },
                Room = new() { MeanCelsius = 16.6, DailySwingCelsius = 0.6, WeatherSwingCelsius = 0.5, WarmestHour = 7, VesselLiters = 23 },
                Sensor = Float with { IntervalMinutes = 15, Gaps = [new(131.2, 138.4)] },
            },
            seed: 21)
        {
            BatchKey = "back-fence-white",
            BatchName = "Back Fence white",
            VesselLabel = "Vessel 2, carboy",
            BandLow = Temperature.FromCelsius(15),
            BandHigh = Temperature.FromCelsius(19),
            AgeAtNowHours = 17.3 * 24,
            SensorName = "vessel-2",
            Publishing = DemoPublishing.JsonPlatoAndFahrenheit("low-barn/vessel-2"),
            Journal = [new(0, DemoJournalKind.Inoculated, "Yeast in at 17 °C, 5 g rehydrated.")],
        };
    }

    /// <summary>A mead in the middle of its ferment, fed with nutrient. Its float sat in foam for some hours.</summary>
    private static DemoVessel QuinceMead()
    {
        var plain = FermentScenarios.Plain(SimulatedKind.Mead);
        return new(
            plain with
            {
                Must = plain.Must with { OriginalGravity = SpecificGravity.FromRatio(1.0979), NitrogenMilligramsPerLiter = 90 },
                Yeast = plain.Yeast with { LagHours = 22, DeathFactor = 0.4, UptakeFactor = 1.1, Tolerance = AlcoholByVolume.FromPercent(15) },
                Room = new() { MeanCelsius = 18.4, DailySwingCelsius = 0.8, WeatherSwingCelsius = 0.4, WarmestHour = 20, VesselLiters = 19 },
                Interventions =
                [
                    new(24, InterventionKind.NutrientAdded, 40), new(48, InterventionKind.NutrientAdded, 40),
                    new(96, InterventionKind.NutrientAdded, 40),
                ],
                Sensor = Float with
                {
                    IntervalMinutes = 10,
                    SpikeShare = 0.002,
                    Offsets = [new(71.5, 77, 0.006)],
                    Gaps = [new(112.1, 119.3)],
                },
            },
            seed: 33)
        {
            BatchKey = "quince-mead",
            BatchName = "Quince mead",
            VesselLabel = "Vessel 3, carboy",
            BandLow = Temperature.FromCelsius(18),
            BandHigh = Temperature.FromCelsius(21),
            AgeAtNowHours = 6.1 * 24,
            SensorName = "vessel-3",
            Publishing = DemoPublishing.JsonWithTime("low-barn/vessel-3"),
            Journal =
            [
                new(0, DemoJournalKind.Inoculated, "Yeast in, 6 g rehydrated; must stirred well for oxygen."),
                new(24, DemoJournalKind.NutrientAdded, "First of three: 6.2 g, dissolved in 100 mL of the mead."),
                new(48, DemoJournalKind.NutrientAdded, "Second of three: 6.2 g."),
                new(96, DemoJournalKind.NutrientAdded, "Third of three: 6.2 g."),
            ],
        };
    }

    /// <summary>A damson wine that was inoculated yesterday: still in its lag, active within half a day.</summary>
    private static DemoVessel DamsonWine()
    {
        var plain = FermentScenarios.Plain(SimulatedKind.Wine);
        return new(
            plain with
            {
                Must = plain.Must with { OriginalGravity = SpecificGravity.FromRatio(1.0921), NitrogenMilligramsPerLiter = 170, NonSugarGramsPerLiter = 23 },
                Yeast = plain.Yeast with { LagHours = 14, Tolerance = AlcoholByVolume.FromPercent(15), GrowthFactor = 1.2 },
                Room = new() { MeanCelsius = 18.6, DailySwingCelsius = 0.9, WarmestHour = 2, StartAboveRoomCelsius = 1.5, VesselLiters = 21 },
                Interventions = [new(40, InterventionKind.NutrientAdded, 30)],
                Sensor = Float with { IntervalMinutes = 10 },
            },
            seed: 44)
        {
            BatchKey = "damson-wine",
            BatchName = "Damson wine",
            VesselLabel = "Vessel 4, carboy",
            BandLow = Temperature.FromCelsius(16),
            BandHigh = Temperature.FromCelsius(22),
            AgeAtNowHours = 28,
            SensorName = "vessel-4",
            Publishing = DemoPublishing.PlainNumbers("low-barn/vessel-4"),
            Journal =
            [
                new(0, DemoJournalKind.Inoculated, "Yeast in at 20 °C, pulp in a bag."),
                new(40, DemoJournalKind.NutrientAdded, "4 g, stirred in with the cap."),
            ],
        };
    }

    /// <summary>A heather mead, step-fed with honey, whose room gets too warm two hours after 'now'.</summary>
    private static DemoVessel HeatherDry()
    {
        const double AgeHours = 12.4 * 24;
        var plain = FermentScenarios.Plain(SimulatedKind.Mead);
        return new(
            plain with
            {
                Must = plain.Must with { OriginalGravity = SpecificGravity.FromRatio(1.0883), NitrogenMilligramsPerLiter = 120 },
                Yeast = plain.Yeast with { LagHours = 26, UptakeFactor = 0.85, Tolerance = AlcoholByVolume.FromPercent(16) },
                Room = new()
                {
                    MeanCelsius = 20.4,
                    DailySwingCelsius = 0.5,
                    WarmestHour = AgeHours % 24,
                    VesselLiters = 10,
                    Insulation = 0.7,
                    Spells = [new(AgeHours + 0.5, AgeHours + 44, 7.5)],
                },
                Interventions =
                [
                    new(26, InterventionKind.NutrientAdded, 40), new(70, InterventionKind.NutrientAdded, 40),
                    new(122, InterventionKind.SugarAdded, 40),
                ],
                Sensor = Float with { IntervalMinutes = 15, GravityNoise = 0.0005 },
            },
            seed: 55)
        {
            BatchKey = "heather-dry",
            BatchName = "Heather, dry",
            VesselLabel = "Vessel 5, demijohn",
            BandLow = Temperature.FromCelsius(18),
            BandHigh = Temperature.FromCelsius(23),
            AgeAtNowHours = AgeHours,
            SensorName = "vessel-5",
            Publishing = DemoPublishing.JsonDensity("low-barn/vessel-5"),
            Journal =
            [
                new(0, DemoJournalKind.Inoculated, "Yeast in, 4 g rehydrated."),
                new(26, DemoJournalKind.NutrientAdded, "First half: 3.3 g."),
                new(70, DemoJournalKind.NutrientAdded, "Second half: 3.3 g."),
                new(122, DemoJournalKind.SugarAdded, "0.5 kg of heather honey, warmed and stirred in."),
            ],
        };
    }

    private static SensorTraits Float => new()
    {
        IntervalJitter = 0.03,
        GravityNoise = 0.0003,
        NoiseMemoryHours = 0.7,
        HeavyTailShare = 0.02,
        CelsiusNoise = 0.05,
        GravityStep = 0.0001,
        CelsiusStep = 0.1,
        BubbleLift = 0.06,
        GravityPerCelsius = 0.00005,
    };
}
