namespace FermentWatch.Simulation;

/// <summary>Everything that decides how a simulated ferment goes and how its sensor tells of it.</summary>
public sealed record FermentScenario
{
    /// <summary>What ferments.</summary>
    public required SimulatedKind Kind { get; init; }

    /// <summary>The must.</summary>
    public required MustTraits Must { get; init; }

    /// <summary>The yeast.</summary>
    public required YeastTraits Yeast { get; init; }

    /// <summary>The room.</summary>
    public required RoomTemperature Room { get; init; }

    /// <summary>What somebody does to it, in any order.</summary>
    public IReadOnlyList<Intervention> Interventions { get; init; } = [];

    /// <summary>The sensor.</summary>
    public SensorTraits Sensor { get; init; } = new();

    /// <summary>Which equations decide how it goes.</summary>
    public KineticStructure Structure { get; init; } = KineticStructure.Cells;

    /// <summary>How long the sensor sends. [h] At most 120 days, 2880 h.</summary>
    public double SensorHours { get; init; } = 60 * 24;

    /// <summary>
    /// The same scenario without anything that begins after a moment: additions, changes of the room, spells. What would come of it
    /// if nobody touched it from then on.
    /// </summary>
    /// <param name="hours">Hours since inoculation.</param>
    public FermentScenario LeftAloneAfter(double hours) => this with
    {
        Interventions = [.. Interventions.Where(act => act.HoursSinceInoculation <= hours)],
        Room = Room with { Spells = [.. Room.Spells.Where(spell => spell.FromHours <= hours)] },
    };
}
