using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Monitoring.Batches.Cleaning;

/// <summary>Temperature readings of one sensor with the place where it sat, in event order.</summary>
internal sealed record TemperatureTrack(Reading[] Readings, Placement[] Placements);

/// <summary>Temperature of a batch in bins: in each the best-placed sensor speaks, a room sensor only when there is no other.</summary>
internal static class TemperatureBins
{
    /// <summary>Outside of this a sensor is broken, not a cellar. [°C] Common practice, no source.</summary>
    private const double LowestPossible = -20;

    private const double HighestPossible = 70;

    public static (ValueList<TemperaturePoint> Points, Latest<Temperature>? Latest) Of(IReadOnlyList<TemperatureTrack> tracks)
    {
        var hasLiquid = HasLiquid(tracks);
        EventTime? first = null;
        EventTime? last = null;
        foreach (var track in tracks)
        {
            if (track.Readings.Length > 0)
            {
                first = first is { } f && f <= track.Readings[0].At ? f : track.Readings[0].At;
                last = last is { } l && l >= track.Readings[^1].At ? l : track.Readings[^1].At;
            }
        }

        if (first is not { } begin || last is not { } end)
        {
            return (ValueList.Of<TemperaturePoint>(), null);
        }

        var width = BinWidth.For(begin, end, 2);
        var bins = new SortedDictionary<long, Bin>();
        Bin? newest = null;
        foreach (var track in tracks)
        {
            Bin? bin = null;
            var slot = long.MinValue;
            for (var i = 0; i < track.Readings.Length; i++)
            {
                var placement = track.Placements[i];
                var reading = track.Readings[i];
                if ((hasLiquid && placement == Placement.Room) || !IsPossible(reading.Value))
                {
                    continue;
                }

                var here = BinWidth.Slot(reading.At, width);
                if (bin is null || here != slot)
                {
                    slot = here;
                    if (!bins.TryGetValue(slot, out bin))
                    {
                        bins[slot] = bin = new Bin();
                    }
                }

                bin.Add(reading, placement);
            }
        }

        var points = new List<TemperaturePoint>(bins.Count);
        foreach (var bin in bins.Values)
        {
            points.Add(bin.ToPoint());
            newest = bin;
        }

        return (ValueList.Of(points), newest?.Newest);
    }

    private static bool IsPossible(double celsius) => celsius is >= LowestPossible and <= HighestPossible;

    private static bool HasLiquid(IReadOnlyList<TemperatureTrack> tracks)
    {
        foreach (var track in tracks)
        {
            for (var i = 0; i < track.Readings.Length; i++)
            {
                if (track.Placements[i] != Placement.Room && IsPossible(track.Readings[i].Value))
                {
                    return true;
                }
            }
        }

        return false;
    }

    private sealed class Bin
    {
        private Placement _placement;
        private int _count;
        private double _sum;
        private double _lowest;
        private double _highest;
        private double _time;
        private long _origin;
        private Reading _newest;

        public Latest<Temperature> Newest => new(Temperature.FromCelsius(_newest.Value), _newest.At, _newest.ReceivedAt);

        public void Add(in Reading reading, Placement placement)
        {
            if (_count > 0 && placement > _placement)
            {
                return;
            }

            if (_count == 0 || placement < _placement)
            {
                _placement = placement;
                (_count, _sum, _time) = (0, 0, 0);
                (_lowest, _highest) = (reading.Value, reading.Value);
                _origin = reading.At.UnixMicroseconds;
                _newest = reading;
            }

            _count++;
            _sum += reading.Value;
            _time += reading.At.UnixMicroseconds - _origin;
            _lowest = Math.Min(_lowest, reading.Value);
            _highest = Math.Max(_highest, reading.Value);
            _newest = reading.At >= _newest.At ? reading : _newest;
        }

        public TemperaturePoint ToPoint() => new(
            new EventTime(_origin + (long)Math.Round(_time / _count)),
            Temperature.FromCelsius(Math.Clamp(_sum / _count, _lowest, _highest)),
            Temperature.FromCelsius(_lowest),
            Temperature.FromCelsius(_highest));
    }
}
