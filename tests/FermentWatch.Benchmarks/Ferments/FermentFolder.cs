using System.Globalization;
using System.Text;
using System.Text.Json.Nodes;
using FermentWatch.Oenology.Density;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Simulation;

namespace FermentWatch.Benchmarks.Ferments;

/// <summary>One simulated ferment as a recording: readings.csv, meta.json and, for scoring, truth.json.</summary>
internal sealed class FermentFolder(string name, FermentFamily family, SimulatedFerment ferment, int seed, Injection? injection = null)
{
    /// <summary>The band that the maker set. [°C]</summary>
    public const double LowCelsius = 12;

    /// <summary>The band that the maker set. [°C]</summary>
    public const double HighCelsius = 28;

    // Fine enough that the shortest on-delay is many of them.
    private const double TrackHours = 0.1;

    // A cut every half day, and a day apart once nothing happens fast.
    private const double DailyFromHours = 336;

    private readonly Random _random = new(seed ^ 0x2b5e);
    private readonly FermentStates _states = new(ferment);
    private readonly DateTimeOffset _pitched = new DateTimeOffset(2026, 1, 1, 6, 0, 0, TimeSpan.Zero).AddHours(seed % 5000);

    /// <summary>Writes the three files.</summary>
    public void Write(string folder)
    {
        Directory.CreateDirectory(folder);
        var stuckAt = _states.All.FirstOrDefault(state => state.State == "stuck")?.Hours;
        var stuckEnd = stuckAt is null ? null : _states.All.FirstOrDefault(state => state.Hours > stuckAt && !state.EndsStuck)?.Hours;
        var last = _states.All.LastOrDefault(state => state.State != "finished")?.Hours;
        double? finish = last is { } before && before + FermentStates.StepHours < _states.All[^1].Hours ? before + FermentStates.StepHours : null;
        var wanted = (finish ?? (stuckEnd is null ? stuckAt : null) ?? 900) + 150 + (150 * _random.NextDouble());
        var end = Math.Clamp(wanted, 330, 1300);
        var readings = (injection?.Heard(ferment.Readings) ?? ferment.Readings).Where(reading => reading.ArrivedHours <= end).ToList();
        var cuts = new List<(int Number, double Hours, int Rows)>();
        var rows = 0;
        for (var hours = 24.0; hours <= end; hours += hours < DailyFromHours ? 12 : 24)
        {
            while (rows < readings.Count && readings[rows].ArrivedHours <= hours)
            {
                rows++;
            }

            cuts.Add((cuts.Count, hours, rows));
        }

        var unit = _random.NextDouble() switch { < 0.45 => "sg", < 0.6 => "points", < 0.8 => "plato", _ => "kgm3" };
        Readings(Path.Combine(folder, "readings.csv"), readings, unit);
        File.WriteAllText(Path.Combine(folder, "meta.json"), Meta(unit, cuts).ToJsonString());
        File.WriteAllText(Path.Combine(folder, "truth.json"), Truth(cuts, stuckAt, stuckEnd, finish, end).ToJsonString());
    }

    private void Readings(string path, List<SimulatedReading> readings, string unit)
    {
        // A recording has no times of arrival; what is injected is played as the running service would hear it, which knows them.
        var knowsArrivals = injection is not null;
        var text = new StringBuilder("sensor_id,time,gravity,temperature_c" + (knowsArrivals ? ",received_at\n" : "\n"));
        foreach (var reading in readings)
        {
            var stamp = _pitched.AddHours(reading.HoursSinceInoculation).ToString("yyyy-MM-ddTHH:mm:ss'Z'", CultureInfo.InvariantCulture);
            text.Append(CultureInfo.InvariantCulture, $"dev-{seed:x}{(reading.Device == 0 ? "a" : "b")},{stamp},{In(unit, reading.SpecificGravity)},{reading.Celsius}");
            text.Append(CultureInfo.InvariantCulture, $"{(knowsArrivals ? "," + _pitched.AddHours(reading.ArrivedHours).ToString("yyyy-MM-ddTHH:mm:ss.fff'Z'", CultureInfo.InvariantCulture) : "")}\n");
        }

        File.WriteAllText(path, text.ToString());
    }

    private static string In(string unit, double? gravity) => gravity is not { } ratio ? "" : (unit switch
    {
        "points" => Math.Round((ratio - 1) * 1000, 2),
        "plato" => Math.Round(SucroseSolution.PlatoOf(SpecificGravity.FromRatio(Math.Clamp(ratio, 0.95, 1.18))).Value.Degrees, 2),
        "kgm3" => Math.Round(ratio * 998.2, 2),
        _ => ratio,
    }).ToString(CultureInfo.InvariantCulture);

    private JsonObject Meta(string unit, List<(int Number, double Hours, int Rows)> cuts)
    {
        var scenario = ferment.Scenario;
        double? Told(double value, double share) => _random.NextDouble() < share ? value : null;
        return new JsonObject
        {
            ["ferment"] = name,
            ["kind"] = scenario.Kind.ToString().ToLowerInvariant(),
            ["gravity_unit"] = unit,
            ["pitched"] = Time(0),
            ["declared_og"] = Told(Math.Round(scenario.Must.OriginalGravity.Value + (0.001 * Normal()), 3), 0.9),
            ["declared_tolerance_abv"] = Told(Math.Round(scenario.Yeast.Tolerance.Percent + (0.5 * Normal()), 1), 0.9),
            ["temp_range_c"] = new JsonArray(LowCelsius, HighCelsius),
            ["cuts"] = new JsonArray([.. cuts.Select(cut => new JsonObject { ["cut"] = cut.Number, ["time"] = Time(cut.Hours), ["rows"] = cut.Rows })]),
        };
    }

    private JsonObject Truth(List<(int Number, double Hours, int Rows)> cuts, double? stuckAt, double? stuckEnd, double? finish, double end)
    {
        var shares = new JsonObject();
        foreach (var share in (int[])[30, 50, 70, 90])
        {
            shares[share.ToString(CultureInfo.InvariantCulture)] = Math.Round(ferment.HoursAtShare(share / 100.0), 1);
        }

        return new JsonObject
        {
            ["ferment"] = name,
            ["family"] = family.ToString(),
            ["og"] = ferment.Scenario.Must.OriginalGravity.Value,
            ["fg"] = ferment.FinalGravity.Value,
            ["true_finish_h"] = finish,
            ["stuck"] = stuckAt is not null,
            ["stuck_at_h"] = stuckAt,
            ["stuck_end_h"] = stuckEnd,
            ["end_h"] = end,
            ["frac_times_h"] = shares,
            ["events"] = new JsonArray([.. ferment.Scenario.Interventions.Select(act => new JsonArray(act.HoursSinceInoculation, Word(act), act.Amount))]),
            ["temp_excursions"] = new JsonArray([.. Excursions(end).Select(spell => new JsonArray(spell.From, spell.To, spell.Cold ? "cold" : "hot"))]),
            ["celsius_every_h"] = TrackHours,
            ["celsius"] = new JsonArray([.. Enumerable.Range(0, (int)(end / TrackHours)).Select(i => JsonValue.Create(Math.Round(ferment.TruthAt(i * TrackHours).Temperature.Celsius, 2)))]),
            ["cuts"] = new JsonArray([.. cuts.Select(cut => Of(cut.Number, _states.At(cut.Hours)))]),
        };
    }

    private static JsonObject Of(int number, TrueState state) => new()
    {
        ["cut"] = number,
        ["h"] = state.Hours,
        ["sg"] = Math.Round(state.Gravity, 5),
        ["fg"] = Math.Round(state.End, 5),
        ["remaining"] = Math.Round(state.Remaining, 5),
        ["finish_h"] = state.FinishHours,
        ["ends_stuck"] = state.EndsStuck,
        ["rate"] = Math.Round(state.RatePerDay, 6),
        ["state"] = state.State,
        ["temp"] = Math.Round(state.Celsius, 2),
        ["frac"] = Math.Round(state.Share, 4),
    };

    private static string Word(Intervention act) => act.Kind switch
    {
        InterventionKind.NutrientAdded => "nutrient",
        InterventionKind.SugarAdded => "feed",
        _ => act.Amount < 0 ? "temp_drop" : "warm_up",
    };

    private List<(double From, double To, bool Cold)> Excursions(double end)
    {
        var found = new List<(double From, double To, bool Cold)>();
        double? from = null;
        foreach (var state in _states.All.Where(state => state.Hours <= end))
        {
            var isOutside = state.Celsius is < LowCelsius or > HighCelsius;
            if (isOutside && from is null)
            {
                from = state.Hours;
            }

            if (from is { } begin && (!isOutside || state.Hours + FermentStates.StepHours > end))
            {
                if (state.Hours - begin >= 4)
                {
                    found.Add((begin, state.Hours, _states.At(begin).Celsius < LowCelsius));
                }

                from = null;
            }
        }

        return found;
    }

    private string Time(double hours) => _pitched.AddHours(hours).ToString("yyyy-MM-ddTHH:mm:ss'Z'", CultureInfo.InvariantCulture);

    private double Normal() => Math.Sqrt(-2 * Math.Log(1 - _random.NextDouble())) * Math.Cos(2 * Math.PI * _random.NextDouble());
}
