using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Simulation;

/// <summary>Draws one scenario; the ranges are told in <see cref="FermentScenarios"/> and at the traits.</summary>
internal sealed class ScenarioDraw(int seed)
{
    /// <summary>What sugar could give at best: about 1 % vol for 6.8 points of gravity.</summary>
    private const double PointsPerPercent = 6.8;

    private readonly SeededNoise _noise = new(seed);

    private enum Bend
    {
        None,
        LowTolerance,
        LittleNitrogen,
        Cold,
        Hot,
    }

    public FermentScenario Scenario()
    {
        var kindDraw = _noise.Unit();
        var kind = kindDraw < 0.45 ? SimulatedKind.Wine : kindDraw < 0.83 ? SimulatedKind.Mead : SimulatedKind.Cider;
        var bendDraw = _noise.Unit();
        var bend = bendDraw switch
        {
            < 0.09 when kind != SimulatedKind.Cider => Bend.LowTolerance,
            < 0.15 => Bend.LittleNitrogen,
            < 0.21 => Bend.Cold,
            < 0.25 => Bend.Hot,
            _ => Bend.None,
        };
        var must = Must(kind, bend);
        var yeast = Yeast(kind, bend, must.OriginalGravity.Points / PointsPerPercent);
        var room = Room(bend);
        var acts = Acts(kind);
        var sensor = new SensorDraw(_noise).Sensor();
        return new()
        {
            Kind = kind,
            Must = must,
            Yeast = yeast,
            Room = room,
            Interventions = acts,
            Sensor = sensor,
            SensorHours = 60 * 24,
        };
    }

    private MustTraits Must(SimulatedKind kind, Bend bend)
    {
        var points = kind switch
        {
            SimulatedKind.Wine => _noise.Between(72, 118),
            SimulatedKind.Mead => _noise.Between(70, 138),
            _ => _noise.Between(42, 68),
        };
        var nitrogen = (kind, bend) switch
        {
            (_, Bend.LittleNitrogen) => _noise.Between(40, 90),
            (SimulatedKind.Wine, _) => _noise.Between(120, 320),
            (SimulatedKind.Mead, _) => _noise.Between(60, 220),
            _ => _noise.Between(80, 200),
        };
        var nonSugar = kind switch
        {
            SimulatedKind.Wine => _noise.Between(10, 24),
            SimulatedKind.Mead => _noise.Between(6, 22),
            _ => _noise.Between(12, 20),
        };
        return new()
        {
            OriginalGravity = SpecificGravity.FromPoints(Math.Round(points, 1)),
            NitrogenMilligramsPerLiter = nitrogen,
            NonSugarGramsPerLiter = nonSugar,
            SugarMillilitersPerGram = _noise.Between(0.616, 0.622),
        };
    }

    private YeastTraits Yeast(SimulatedKind kind, Bend bend, double possiblePercent)
    {
        var weak = bend == Bend.LittleNitrogen;
        var tolerance = bend == Bend.LowTolerance
            ? Math.Clamp(possiblePercent - _noise.Between(1, 4), 9.5, 17)
            : Math.Clamp(possiblePercent + _noise.Between(0.5, 4), 11, 18);
        return new()
        {
            PitchGramsPerLiter = _noise.ByRatio(0.15, 0.5),
            LagHours = kind == SimulatedKind.Mead ? _noise.ByRatio(16, 96) : _noise.ByRatio(6, 48),
            Tolerance = AlcoholByVolume.FromPercent(Math.Round(tolerance * 2) / 2),
            ToleranceSharpness = _noise.Between(3, 7),
            GrowthFactor = _noise.Between(0.6, 1.5),
            UptakeFactor = weak ? _noise.Between(0.5, 0.8) : _noise.ByRatio(0.6, 1.5),
            DeathFactor = weak ? _noise.Between(0.7, 1.2) : _noise.ByRatio(0.15, 0.8),
            YeastPerNitrogen = _noise.Between(14, 26),
            SugarAffinityGramsPerLiter = _noise.Between(4, 14),
            ColdLimitCelsius = _noise.Between(5, bend == Bend.Cold ? 10 : 8),
            EthanolYield = _noise.Between(0.458, 0.486),
            GlycerolYield = _noise.Between(0.025, 0.038),
        };
    }

    private RoomTemperature Room(Bend bend)
    {
        var from = _noise.Between(90, 300);
        var mean = bend switch
        {
            Bend.Cold => _noise.Between(13, 18),
            Bend.Hot => _noise.Between(23, 26),
            _ => _noise.Between(15, 25),
        };
        RoomSpell[] spells = bend switch
        {
            Bend.Cold => [new(from, from + _noise.Between(100, 2000), -_noise.Between(7, 11))],
            Bend.Hot => [new(from / 3, (from / 3) + _noise.Between(60, 240), _noise.Between(6, 11))],
            _ when _noise.Happens(0.25) => [new(from, from + _noise.Between(12, 72), -_noise.Between(2, 7))],
            _ => [],
        };
        return new()
        {
            MeanCelsius = mean,
            DailySwingCelsius = _noise.Between(0, 2.5),
            WeatherSwingCelsius = _noise.Between(0, 1.5),
            WarmestHour = _noise.Between(0, 24),
            StartAboveRoomCelsius = _noise.Between(-2, 5),
            VesselLiters = _noise.ByRatio(4, 30),
            Insulation = _noise.Between(0.7, 1.6),
            Spells = spells,
        };
    }

    private List<Intervention> Acts(SimulatedKind kind)
    {
        var acts = new List<Intervention>();
        if (_noise.Happens(kind == SimulatedKind.Mead ? 0.75 : 0.3))
        {
            var hours = _noise.Between(20, 48);
            for (var times = _noise.Happens(0.5) ? 3 : 2; times > 0; times--)
            {
                acts.Add(new(Math.Round(hours, 1), InterventionKind.NutrientAdded, Math.Round(_noise.Between(30, 80))));
                hours += _noise.Between(20, 50);
            }
        }

        if (kind != SimulatedKind.Cider && _noise.Happens(0.08))
        {
            acts.Add(new(Math.Round(_noise.Between(100, 300), 1), InterventionKind.SugarAdded, Math.Round(_noise.Between(22, 60))));
        }

        if (_noise.Happens(0.06))
        {
            acts.Add(new(Math.Round(_noise.Between(200, 500), 1), InterventionKind.RoomChanged, Math.Round(_noise.Between(2, 5), 1)));
        }

        return acts;
    }
}
