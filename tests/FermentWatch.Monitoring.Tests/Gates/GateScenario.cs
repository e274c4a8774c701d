using System.Globalization;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Monitoring.Gates;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Monitoring.Tests.Gates;

/// <summary>A story of a journal without any sensor, and how gates must stand on its days: see Scenarios/README.md.</summary>
internal sealed class GateScenario
{
    private static readonly string[] Paths = ["dry-and-flat", "sulfite-and-sorbate", "pasteurized-or-filtered", "kept-cold", "bottle-conditioned"];

    private readonly GateStory _story = new();

    private readonly List<(string Line, double Day, string Gate, string[] Expected)> _expected = [];

    public int HandReadings { get; private set; }

    public IReadOnlyList<string> Gates => [.. _expected.Select(one => one.Gate)];

    /// <summary>Whether some line asks for a gate that is open.</summary>
    public bool HasOpen => _expected.Exists(one => one.Expected is ["open"]);

    public static GateScenario Parse(string text)
    {
        var scenario = new GateScenario();
        foreach (var line in text.Split('\n').Select(line => line.Split('#')[0].Trim()).Where(line => line.Length > 0))
        {
            scenario.Take(line, line.Split(' ', StringSplitOptions.RemoveEmptyEntries));
        }

        return scenario;
    }

    /// <summary>Lines that do not hold, each with what was found.</summary>
    public IReadOnlyList<string> Faults() => [.. _expected.Select(Fault).OfType<string>()];

    private void Take(string line, string[] words)
    {
        switch (words)
        {
            case ["kind", var kind]:
                _story.Kind = Enum.Parse<FermentKind>(kind, ignoreCase: true);
                break;
            case ["volume", var liters]:
                _story.Volume = Volume.FromLiters(Number(liters));
                break;
            case ["journal", var day, var key, .. var fields]:
                Write(line, Number(day), JournalCatalog.Find(key) ?? throw new FormatException($"'{line}': no kind of entry '{key}'."), fields);
                break;
            case ["expect", var day, var gate, .. var expected]:
                _expected.Add((line, Number(day), gate, expected));
                break;
            default:
                throw new FormatException($"'{line}' begins with none of kind, volume, journal, expect.");
        }
    }

    // Through the form that the page uses: what it would refuse can be in no journal.
    private void Write(string line, double day, JournalKindEntry kind, string[] fields)
    {
        var typed = fields.Select(field => field.Split('=')).ToDictionary(pair => pair[0], pair => pair[1], StringComparer.Ordinal);
        if (typed.Keys.FirstOrDefault(name => kind.Field(name) is null) is { } unknown)
        {
            throw new FormatException($"'{line}': '{kind.Key}' has no field '{unknown}'.");
        }

        var read = JournalForm.Read(kind, name => typed.GetValueOrDefault(name, ""));
        if (read.Faults.Count > 0)
        {
            throw new FormatException($"'{line}': {string.Join(", ", read.Faults)}.");
        }

        HandReadings += kind.Kind is JournalKind.MeasuredByHand && read.Gravity is not null ? 1 : 0;
        _story.Add(day, kind.Kind, read.Gravity, read.Values);
    }

    private string? Fault((string Line, double Day, string Gate, string[] Expected) one)
    {
        var gate = _story.At(one.Day).SingleOrDefault(gate => Name(gate) == one.Gate);
        if (gate is null)
        {
            return $"{one.Line}: there is no such gate then.";
        }

        if (one.Expected is ["open" or "not-yet"])
        {
            return gate.IsOpen == (one.Expected[0] == "open") ? null
                : $"{one.Line}: {string.Join("; ", gate.Conditions.Where(condition => condition.State is not ConditionState.Met).Select(condition => $"{condition.Code} {condition.State} {condition.Because.Code}"))}";
        }

        var (code, state, because) = (one.Expected[0], Enum.Parse<ConditionState>(one.Expected[1].Replace("-", "", StringComparison.Ordinal), ignoreCase: true), one.Expected.ElementAtOrDefault(2));
        var found = gate.Conditions.First(condition => condition.Code == code);
        return found.State == state && (because is null || found.Because.Code == because) ? null : $"{one.Line}: it is {found.State}, {found.Because.Code}.";
    }

    private static string Name(Gate gate) => gate.Path is { } path ? "bottle:" + Paths[(int)path - 1] : gate.Kind.ToString().ToLowerInvariant();

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}
