using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Service.Backtest;

/// <summary>Rows of a recording as the readings that the store would hold by then.</summary>
internal static class ReplayFacts
{
    /// <summary>Series of the first rows.</summary>
    /// <param name="rows">All rows, in order of arrival.</param>
    /// <param name="count">How many of them had arrived.</param>
    /// <param name="gravityUnit">Unit of the gravity.</param>
    /// <param name="now">A moment at which they had all arrived.</param>
    public static List<SeriesReadings> Of(IReadOnlyList<ReplayRow> rows, int count, MeasurementUnit gravityUnit, EventTime now)
    {
        var series = new List<SeriesReadings>();
        foreach (var sensor in Enumerable.Range(0, count).GroupBy(index => rows[index].Sensor))
        {
            int[] places = [.. sensor];
            var (gravity, temperature) = (new Stream(gravityUnit), new Stream(MeasurementUnit.DegreesCelsius));
            var knowsArrivals = Array.TrueForAll(places, place => rows[place].ReceivedAt is not null);
            var placed = knowsArrivals ? null : WithoutArrivals(rows, ref places, now);
            for (var i = 0; i < places.Length; i++)
            {
                var row = rows[places[i]];
                if (placed is null)
                {
                    gravity.Arrived(row.Gravity, places[i], row.Stamp, row.ReceivedAt!.Value);
                    temperature.Arrived(row.Celsius, places[i], row.Stamp, row.ReceivedAt.Value);
                }
                else
                {
                    gravity.Placed(row.Gravity, places[i], row.Stamp, placed[i]);
                    temperature.Placed(row.Celsius, places[i], row.Stamp, placed[i]);
                }
            }

            series.Add(new SeriesReadings(new SeriesKey(sensor.Key, QuantityKind.Gravity), gravity.Readings));
            series.Add(new SeriesReadings(new SeriesKey(sensor.Key, QuantityKind.Temperature), temperature.Readings));
        }

        return series;
    }

    private static IReadOnlyList<PlacedStamp> WithoutArrivals(IReadOnlyList<ReplayRow> rows, ref int[] places, EventTime now)
    {
        // Without a stamp and without an arrival nothing says when it was.
        places = Array.FindAll(places, place => rows[place].Stamp is not null);
        return RecordedClock.FromArrivalOrder(Array.ConvertAll(places, place => rows[place].Stamp!.Value), now);
    }

    /// <summary>One series on its way from rows to readings, as decoder and store do it to messages.</summary>
    private sealed class Stream(MeasurementUnit unit)
    {
        private ClockHistory _clock = ClockHistory.None;
        private long _newest = long.MinValue;

        public List<Reading> Readings { get; } = [];

        /// <summary>A row whose arrival is known: judged as a live message is.</summary>
        public void Arrived(double? raw, long sequence, EventTime? stamp, ReceivedAt receivedAt)
        {
            if (raw is not { } number || !UnitConversion.IsPlausible(number, unit))
            {
                return;
            }

            // The export writes the arrival where the device told no time: no two messages arrive in the same microsecond, so none is lost.
            var verdict = ClockRepair.Judge(stamp, receivedAt, _clock);
            _clock = verdict.Next;
            Readings.Add(new Reading(verdict.At, sequence, stamp, receivedAt, number, UnitConversion.ToCanonical(number, unit), verdict.Trusted));
        }

        /// <summary>A row whose arrival is not known: placed by the order of arrival, and thought to have arrived when it was taken.</summary>
        public void Placed(double? raw, long sequence, EventTime? stamp, PlacedStamp placed)
        {
            if (raw is not { } number || !UnitConversion.IsPlausible(number, unit))
            {
                return;
            }

            _newest = Math.Max(_newest, placed.At.UnixMicroseconds);
            Readings.Add(new Reading(
                placed.At, sequence, stamp, new ReceivedAt(_newest), number, UnitConversion.ToCanonical(number, unit), placed.ClockTrusted));
        }
    }
}
