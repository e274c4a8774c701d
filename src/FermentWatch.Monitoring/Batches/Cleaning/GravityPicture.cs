using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Batches.Cleaning;

/// <summary>All that the readings and the journal say about gravity up to a moment, cleaned.</summary>
internal sealed class GravityPicture
{
    private static readonly TimeSpan LeastGap = TimeSpan.FromHours(3);

    /// <summary>Hand readings come when somebody has time; those that show a mead to be flat lie 14 days apart. Common practice, no source.</summary>
    private static readonly TimeSpan LeastHandGap = TimeSpan.FromDays(15);

    private static readonly TimeSpan MostHandGap = TimeSpan.FromDays(30);

    private static readonly TimeSpan HandTakesOver = TimeSpan.FromHours(24);

    private readonly TimeSpan _sensorLimit;
    private readonly TimeSpan _handLimit;
    private readonly EventTime? _lastSensor;

    private GravityPicture(
        List<GravityTrack> tracks,
        HandReadings hand,
        List<GravitySample> samples,
        List<SugarRise> sugar,
        TimeSpan sensorLimit,
        TimeSpan handLimit,
        EventTime? lastSensor,
        List<AnchorPair> anchors)
    {
        Anchors = anchors;
        Tracks = tracks;
        Hand = hand;
        Samples = samples;
        Sugar = sugar;
        _sensorLimit = sensorLimit;
        _handLimit = handLimit;
        _lastSensor = lastSensor;
        Points = GravityBins.Of(samples, sugar);
    }

    public List<GravityTrack> Tracks { get; }

    public HandReadings Hand { get; }

    /// <summary>Hand readings beside what the sensor showed then.</summary>
    public List<AnchorPair> Anchors { get; }

    /// <summary>Kept readings in time order.</summary>
    public List<GravitySample> Samples { get; }

    /// <summary>Sugar that was added, in time order.</summary>
    public List<SugarRise> Sugar { get; }

    /// <summary>Whether the newest readings are the hand's: no sensor was heard in the day before the last of them.</summary>
    public bool IsByHand => Samples.Count > 0 && Hand.Kept.Count > 0
        && (_lastSensor is not { } last || Hand.Kept[^1].At - last > HandTakesOver);

    /// <summary>A longer time without a reading is a gap now.</summary>
    public TimeSpan GapLimit => IsByHand ? _handLimit : _sensorLimit;

    public ValueList<GravityPoint> Points { get; }

    /// <summary>Cleans the gravity series of a batch together with its journal.</summary>
    /// <param name="series">Normalized series up to the moment.</param>
    /// <param name="inoculatedAt">When the yeast went in.</param>
    /// <param name="journal">Entries that count, up to the moment.</param>
    /// <param name="originalPoints">Original gravity as told, or null: with hand readings it says where the sensor stood at the start. [points]</param>
    public static GravityPicture Of(IReadOnlyList<SeriesOfBatch> series, EventTime inoculatedAt, IReadOnlyList<JournalEntry> journal, double? originalPoints = null)
    {
        var tracks = new List<GravityTrack>();
        foreach (var one in series)
        {
            if (one.Key.Quantity == QuantityKind.Gravity && one.Readings.Length > 0)
            {
                var temperature = series.FirstOrDefault(other => other.Key == one.Key with { Quantity = QuantityKind.Temperature })?.Readings ?? [];
                tracks.Add(GravityCleaner.Clean(one.Readings, inoculatedAt, journal, temperature));
            }
        }

        var hand = HandReadings.From(journal, inoculatedAt);
        var sensors = GravityMerge.Sensors(tracks);
        var sugar = sensors.Count > 0 ? FoundSugar(tracks) : hand.Rises(journal);
        var (moved, anchors) = HandAnchor.Of(sensors, hand.Kept, inoculatedAt, originalPoints, Disturbances(tracks, journal), at => journal.Any(entry => entry.At == at && entry.HoldsGas()));
        var samples = GravityMerge.WithHand(moved, hand.Kept);
        return new GravityPicture(
            tracks, hand, samples, sugar, SensorLimit(tracks), HandLimit(hand), sensors.Count > 0 ? sensors[^1].At : null, anchors);
    }

    /// <summary>Stretches longer than the limit between kept readings, and from the newest one to <paramref name="now"/>.</summary>
    public ValueList<Gap> Gaps(EventTime now)
    {
        var gaps = new List<Gap>();
        for (var i = 0; i < Samples.Count; i++)
        {
            var next = i + 1 < Samples.Count ? Samples[i + 1].At : now;
            var limit = _lastSensor is { } last && Samples[i].At < last ? _sensorLimit : GapLimit;
            if (next - Samples[i].At > limit)
            {
                gaps.Add(new Gap(Samples[i].At, next));
            }
        }

        return ValueList.Of(gaps);
    }

    /// <summary>Event time of the newest reading that is stored, kept or not.</summary>
    public EventTime? NewestStored()
    {
        EventTime? newest = Samples.Count > 0 ? Samples[^1].At : null;
        foreach (var track in Tracks)
        {
            var last = track.Readings[^1].At;
            newest = newest is { } known && known >= last ? known : last;
        }

        return newest;
    }

    /// <summary>Present gravity from the newest readings together, or null. [points]</summary>
    public double? Present()
    {
        const int Most = 5;
        if (Samples.Count == 0)
        {
            return null;
        }

        Span<double> newest = stackalloc double[Most];
        var count = 0;
        for (var i = Samples.Count - 1; i >= 0 && count < Most; i--)
        {
            if ((Samples[^1].At - Samples[i].At) > LeastGap)
            {
                break;
            }

            newest[count++] = Samples[i].Points;
        }

        return Hampel.MedianInPlace(newest[..count]);
    }

    /// <summary>What may have moved a sensor: sugar and its stirring, knocks, rackings.</summary>
    private static List<EventTime> Disturbances(List<GravityTrack> tracks, IReadOnlyList<JournalEntry> journal)
    {
        var times = new List<EventTime>();
        foreach (var track in tracks)
        {
            times.AddRange(track.Steps.Select(step => track.Readings[step.Index].At));
        }

        times.AddRange(journal.Where(entry => entry.Kind is JournalKind.SugarAdded or JournalKind.Racked).Select(entry => entry.At));
        times.Sort();
        return times;
    }

    private static List<SugarRise> FoundSugar(List<GravityTrack> tracks)
    {
        var rises = new List<SugarRise>();
        foreach (var track in tracks)
        {
            foreach (var step in track.Steps)
            {
                var at = track.Readings[step.Index].At;
                if (step.IsSugar && !rises.Exists(known => (known.At - at).Duration() < TimeSpan.FromHours(12)))
                {
                    rises.Add(new SugarRise(at, step.Offset));
                }
            }
        }

        rises.Sort((left, right) => left.At.CompareTo(right.At));
        return rises;
    }

    private static TimeSpan HandLimit(HandReadings hand)
    {
        var intervals = new double[Math.Max(0, hand.Kept.Count - 1)];
        for (var i = 0; i < intervals.Length; i++)
        {
            intervals[i] = (hand.Kept[i + 1].At - hand.Kept[i].At).TotalHours;
        }

        var usual = intervals.Length < 2 ? TimeSpan.Zero : TimeSpan.FromHours(4 * Hampel.MedianInPlace(intervals));
        return usual > MostHandGap ? MostHandGap : usual > LeastHandGap ? usual : LeastHandGap;
    }

    private static TimeSpan SensorLimit(List<GravityTrack> tracks)
    {
        var shortest = double.PositiveInfinity;
        foreach (var track in tracks)
        {
            shortest = double.IsNaN(track.MedianInterval) ? shortest : Math.Min(shortest, track.MedianInterval);
        }

        var four = double.IsFinite(shortest) ? TimeSpan.FromHours(Math.Min(4 * shortest, 24 * 365)) : TimeSpan.Zero;
        return four > LeastGap ? four : LeastGap;
    }
}
