using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Batches.Cleaning;

/// <summary>Why a gravity reading is not part of the curve.</summary>
internal enum Mark : byte
{
    Kept,
    BeforeInoculation,
    Impossible,
    Spike,
    Foam,
    Handling,
    Mixing,
    BeyondCalibration,
}

/// <summary>A spell of readings that was set aside as a whole, by positions in the track (last one included).</summary>
internal readonly record struct Spell(int First, int Last, Mark Mark);

/// <summary>A lasting jump between the reading before <paramref name="Index"/> and that at it. [points]</summary>
internal readonly record struct Step(int Index, double Offset, bool IsSugar);

/// <summary>Gravity readings of one sensor in event order while they are being cleaned.</summary>
internal sealed class GravityTrack
{
    public GravityTrack(Reading[] readings, EventTime origin)
    {
        Readings = readings;
        Hours = new double[readings.Length];
        Points = new double[readings.Length];
        Shift = new double[readings.Length];
        Marks = new Mark[readings.Length];
        for (var i = 0; i < readings.Length; i++)
        {
            Hours[i] = (readings[i].At.UnixMicroseconds - origin.UnixMicroseconds) / 3.6e9;
            Points[i] = (readings[i].Value - 1) * 1000;
        }
    }

    public Reading[] Readings { get; }

    /// <summary>Hours since inoculation.</summary>
    public double[] Hours { get; }

    /// <summary>Thousandths above water, as read.</summary>
    public double[] Points { get; }

    /// <summary>What is taken off a reading because of steps before it and of its temperature. [points]</summary>
    public double[] Shift { get; }

    public Mark[] Marks { get; }

    /// <summary>How far a spike is from its neighbors' median. [points]</summary>
    public Dictionary<int, double> SpikeSizes { get; } = [];

    public List<Spell> Spells { get; } = [];

    public List<Step> Steps { get; } = [];

    public int Count => Readings.Length;

    /// <summary>Median of the intervals between readings, or NaN with fewer than three. [h]</summary>
    public double MedianInterval { get; set; } = double.NaN;

    /// <summary>How it follows its own temperature, which is taken off in <see cref="Shift"/>; 0 where nothing is known of it. [points/°C]</summary>
    public double PointsPerCelsius { get; set; }

    /// <summary>Positions of the readings that are still part of the curve.</summary>
    public int[] KeptPositions()
    {
        var kept = new int[Count];
        var count = 0;
        for (var i = 0; i < kept.Length; i++)
        {
            if (Marks[i] == Mark.Kept)
            {
                kept[count++] = i;
            }
        }

        return kept[..count];
    }

    public void SetAside(int first, int last, Mark mark)
    {
        for (var i = first; i <= last; i++)
        {
            if (Marks[i] is Mark.Kept or Mark.Spike)
            {
                Marks[i] = mark;
            }
        }

        Spells.Add(new Spell(first, last, mark));
    }
}
