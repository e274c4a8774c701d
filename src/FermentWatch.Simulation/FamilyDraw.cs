using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Simulation;

/// <summary>Draws ferments by family, for measuring the forecast where it is hard.</summary>
/// <remarks>
/// <para><b>Must.</b> Gravity 1.078 to 1.112 in wine, 1.068 to 1.115 in mead (1.112 to 1.150 where tolerance ends it), 1.042 to 1.066 in cider, 1.060 to 1.090
/// where sugar follows. Dissolved matter that is no sugar: 13 to 24 g/L in wine, 8 to 18 in mead, 9 to 18 in cider, which with the alcohol makes the dry
/// ends that are told of (0.992 to 0.997, 0.988 to 0.993, 0.996 to 1.000; common practice, no source). Nitrogen 120 to 320 mg/L in wine, 60 to 200 in mead, 80 to 220 in cider, 25 to 90 where it is to lack.</para>
/// <para><b>Yeast.</b> Tolerance what the sugar could give and 0.7 to 4.5 % vol more, or 2 to 6 less where it is to end it; 10 to 18.5.
/// Cold limit 4 to 9 °C, 9 to 14 where it turns cold. Sugar uptake 0.8 to 2.4 times the published one (0.6 to 1.2 where nitrogen lacks). All else as in <see cref="YeastTraits"/>.</para>
/// <para><b>Room.</b> Mean 14 to 26 °C; swing of day and night to ±2, ±2.5 to ±6 in the diurnal family. Cold by 9 to 16 °C down to 4 to 10 °C
/// after 48 to 150 h; warmed after another 60 to 240 h to 18 to 25 °C.</para>
/// <para><b>Acts.</b> Nutrient 30 to 80 mg/L of nitrogen at 20 to 300 h; sugar 20 to 70 g/L at 70 to 320 h. In a tenth of the starved ones
/// a rescue of 60 to 120 mg/L.</para>
/// <para><b>Sensor.</b> As <see cref="SensorTraits"/>, and in 6 to 15 % of the ferments each: racking (2 to 12 h of rubbish and an offset of
/// 0.001 to 0.005), stirring once or three times a day in the first week, a device that takes over with an offset of its own, two devices
/// on a topic (4 %), a sensor outside the glass, layers of sugar after an addition; in a third a thermometer that is off by up to 1 °C.</para>
/// </remarks>
public static class FamilyDraw
{
    private const double PointsPerPercent = 6.8;

    /// <summary>Draws a scenario. The same arguments give the same scenario.</summary>
    /// <param name="family">The family.</param>
    /// <param name="structure">The equations.</param>
    /// <param name="seed">Any number.</param>
    public static FermentScenario Of(FermentFamily family, KineticStructure structure, int seed)
    {
        var noise = new SeededNoise(unchecked((seed * 31L) + (int)family + (1_000_003L * (int)structure)));
        var kind = Kind(family, noise);
        var points = Math.Round(Points(family, kind, noise), 1);
        var isTolerance = family == FermentFamily.MeadTolerance;
        var isStarved = family == FermentFamily.StuckNutrient;
        var isCold = family is FermentFamily.StuckCold or FermentFamily.RestartWarm;
        var acts = new List<Intervention>();
        var fed = Feed(family, noise, acts);
        var possible = (points + (fed * 0.385)) / PointsPerPercent;
        var tolerance = isTolerance ? possible - noise.Between(2, 6) : possible + noise.Between(0.7, 4.5);
        var room = Room(family, noise, acts);
        Nourish(family, noise, acts);
        return new()
        {
            Kind = kind,
            Structure = structure,
            Must = new()
            {
                OriginalGravity = SpecificGravity.FromPoints(points),
                NitrogenMilligramsPerLiter = isStarved ? noise.Between(25, 90) : kind switch
                {
                    SimulatedKind.Wine => noise.Between(120, 320),
                    SimulatedKind.Mead => isTolerance ? noise.Between(140, 260) : noise.Between(60, 200),
                    _ => noise.Between(80, 220),
                },
                NonSugarGramsPerLiter = kind switch
                {
                    SimulatedKind.Wine => noise.Between(13, 24),
                    SimulatedKind.Mead => noise.Between(8, 18),
                    _ => noise.Between(9, 18),
                },
                SugarMillilitersPerGram = noise.Between(0.616, 0.622),
            },
            Yeast = new()
            {
                PitchGramsPerLiter = noise.ByRatio(0.15, 0.5),
                LagHours = noise.ByRatio(6, 60),
                Tolerance = AlcoholByVolume.FromPercent(Math.Round(Math.Clamp(tolerance, 10, 18.5), 1)),
                ToleranceSharpness = noise.Between(2.5, 7),
                GrowthFactor = noise.Between(0.6, 1.5),
                UptakeFactor = isStarved ? noise.Between(0.6, 1.2) : noise.ByRatio(0.8, 2.4),
                DeathFactor = isStarved ? noise.Between(0.7, 1.6) : noise.ByRatio(0.1, family == FermentFamily.StepFeed ? 0.3 : 0.6),
                YeastPerNitrogen = noise.Between(14, 26),
                SugarAffinityGramsPerLiter = noise.Between(4, 16),
                ColdLimitCelsius = isCold ? noise.Between(9, 14) : noise.Between(4, 9),
                EthanolYield = noise.Between(0.458, 0.486),
                GlycerolYield = noise.Between(0.025, 0.038),
            },
            Room = room,
            Interventions = acts,
            Sensor = Worked(new SensorDraw(noise).Sensor(), noise, acts),
            SensorHours = 60 * 24,
        };
    }

    private static SimulatedKind Kind(FermentFamily family, SeededNoise noise) => family switch
    {
        FermentFamily.WineDry => SimulatedKind.Wine,
        FermentFamily.MeadStaggered or FermentFamily.MeadTolerance => SimulatedKind.Mead,
        FermentFamily.CiderLow => SimulatedKind.Cider,
        _ => noise.Happens(0.5) ? SimulatedKind.Wine : SimulatedKind.Mead,
    };

    private static double Points(FermentFamily family, SimulatedKind kind, SeededNoise noise) => (family, kind) switch
    {
        (FermentFamily.MeadTolerance, _) => noise.Between(112, 150),
        (FermentFamily.StepFeed, _) => noise.Between(60, 90),
        (_, SimulatedKind.Cider) => noise.Between(42, 66),
        (_, SimulatedKind.Wine) => noise.Between(78, 112),
        _ => noise.Between(68, 115),
    };

    private static double Feed(FermentFamily family, SeededNoise noise, List<Intervention> acts)
    {
        var total = 0.0;
        if (family == FermentFamily.StepFeed)
        {
            var hours = noise.Between(70, 160);
            for (var times = 1 + (int)(3 * noise.Unit()); times > 0; times--)
            {
                var grams = Math.Round(noise.Between(20, 70));
                acts.Add(new(Math.Round(hours, 2), InterventionKind.SugarAdded, grams));
                total += grams;
                hours += noise.Between(45, 120);
            }
        }

        return total;
    }

    private static RoomTemperature Room(FermentFamily family, SeededNoise noise, List<Intervention> acts)
    {
        var mean = family == FermentFamily.Diurnal ? noise.Between(14, 24) : noise.Between(15, 26);
        if (family is FermentFamily.StuckCold or FermentFamily.RestartWarm)
        {
            mean = noise.Between(17, 24);
            var cold = Math.Max(4, Math.Min(10, mean - noise.Between(9, 16)));
            var from = Math.Round(noise.Between(48, 150), 2);
            acts.Add(new(from, InterventionKind.RoomChanged, Math.Round(cold - mean, 1)));
            if (family == FermentFamily.RestartWarm)
            {
                acts.Add(new(Math.Round(from + noise.Between(60, 240), 2), InterventionKind.RoomChanged, Math.Round(noise.Between(18, 25) - cold, 1)));
            }
        }

        return new()
        {
            MeanCelsius = mean,
            DailySwingCelsius = family == FermentFamily.Diurnal ? noise.Between(2.5, 6) : noise.Between(0, 2),
            WeatherSwingCelsius = noise.Between(0, 1.5),
            WarmestHour = noise.Between(0, 24),
            StartAboveRoomCelsius = noise.Between(-2, 4),
            VesselLiters = noise.ByRatio(4, 30),
            Insulation = noise.Between(0.7, 1.6),
        };
    }

    private static void Nourish(FermentFamily family, SeededNoise noise, List<Intervention> acts)
    {
        if (family == FermentFamily.MeadStaggered || (family == FermentFamily.MeadTolerance && noise.Happens(0.5)))
        {
            var hours = noise.Between(20, 40);
            for (var times = 2 + (int)(3 * noise.Unit()); times > 0; times--)
            {
                acts.Add(new(Math.Round(hours, 2), InterventionKind.NutrientAdded, Math.Round(noise.Between(30, 80))));
                hours += noise.Between(20, 90);
            }
        }
        else if (family == FermentFamily.StuckNutrient && noise.Happens(0.1))
        {
            acts.Add(new(Math.Round(noise.Between(150, 400), 2), InterventionKind.NutrientAdded, Math.Round(noise.Between(60, 120))));
        }
    }

    private static SensorTraits Worked(SensorTraits sensor, SeededNoise noise, List<Intervention> acts)
    {
        var offsets = sensor.Offsets.ToList();
        if (noise.Happens(0.15))
        {
            var from = noise.Between(150, 500);
            var until = from + noise.Between(2, 12);
            offsets.Add(new(until, double.PositiveInfinity, (noise.Happens(0.5) ? 1 : -1) * noise.Between(0.001, 0.005)));
            sensor = sensor with { Rubbish = [new(from, until)] };
        }

        if (noise.Happens(0.12))
        {
            var (first, every) = (noise.Between(6, 30), noise.OneOf(8.0, 24));
            sensor = sensor with { Stirred = [.. Enumerable.Range(0, (int)(noise.Between(48, 168) / every)).Select(i => first + (i * every))] };
        }

        if (noise.Happens(0.08))
        {
            var at = noise.Between(80, 400);
            offsets.Add(new(at, double.PositiveInfinity, noise.Between(-0.006, 0.006)));
            sensor = sensor with { SwappedAtHours = at };
        }

        foreach (var sugar in acts.Where(act => act.Kind == InterventionKind.SugarAdded && noise.Happens(0.5)))
        {
            var size = (noise.Happens(0.5) ? 1 : -1) * noise.Between(0.003, 0.012);
            offsets.Add(new(sugar.HoursSinceInoculation, sugar.HoursSinceInoculation + noise.Between(2, 14), size));
        }

        return sensor with
        {
            Offsets = offsets,
            RoomShare = noise.Happens(0.08) ? noise.Between(0.1, 0.7) : 0,
            SecondDeviceOffset = noise.Happens(0.04) ? noise.Between(-0.004, 0.004) : null,
            CelsiusOffset = noise.Happens(1 / 3.0) ? noise.Between(-1, 1) : 0,
        };
    }
}
