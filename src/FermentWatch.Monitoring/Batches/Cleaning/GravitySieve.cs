using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Batches.Cleaning;

/// <summary>Tells of each gravity sensor which of its readings were set aside for what the sensor did.</summary>
internal static class GravitySieve
{
    /// <param name="series">The series of which the picture was made.</param>
    /// <param name="picture">The cleaned gravity.</param>
    /// <param name="work">When somebody worked on the vessel: nothing that was read then counts.</param>
    public static IReadOnlyList<SiftedReadings> Of(IReadOnlyList<SeriesOfBatch> series, GravityPicture picture, IReadOnlyList<WorkSpan> work)
    {
        var sensors = series.Where(one => one.Key.Quantity == QuantityKind.Gravity && one.Readings.Length > 0).Select(one => one.Key.Sensor);
        return [.. sensors.Zip(picture.Tracks, (sensor, track) => new SiftedReadings(sensor, Sift(track, work)))];
    }

    private static List<SiftedReading> Sift(GravityTrack track, IReadOnlyList<WorkSpan> work)
    {
        var sifted = new List<SiftedReading>(track.Count);
        for (var i = 0; i < track.Count; i++)
        {
            var (at, mark) = (track.Readings[i].At, track.Marks[i]);
            if (mark is not (Mark.BeforeInoculation or Mark.Foam or Mark.Handling or Mark.Mixing) && !work.Any(span => span.Covers(at)))
            {
                sifted.Add(new SiftedReading(at, mark is not Mark.Kept));
            }
        }

        return sifted;
    }
}
