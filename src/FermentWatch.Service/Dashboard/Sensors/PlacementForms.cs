using System.Globalization;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Configuration;
using FermentWatch.Service.Dashboard.Forms;

namespace FermentWatch.Service.Dashboard.Sensors;

/// <summary>Forms that say where a sensor sits.</summary>
internal static class PlacementForms
{
    /// <summary>From a moment on the sensor sits elsewhere in the same batch.</summary>
    public static async Task<IResult> PlaceAsync(SentForm form, CancellationToken cancellationToken)
    {
        var sensor = SensorHosting.SensorOf(form.Context);
        var stay = form.Service<Store>().ReadStays(sensor).FirstOrDefault(one => KeyOf(one) == form["stay"]);
        if (stay is null)
        {
            return SensorHosting.Again(form, sensor, "place-from", SensorText.Of("fault-stay"));
        }

        if (!SettingWords.Placements.TryGetValue(form["placement"], out var placement))
        {
            return SensorHosting.Again(form, sensor, "place-from", SensorText.Of("fault-placement", form["placement"]));
        }

        // The field shows minutes: the begin of the stay as shown is its begin.
        var from = stay.Attachment.From;
        if (form["place-from"] != LocalMoment.Write(from, form.Visit.Reader) && !LocalMoment.TryRead(form["place-from"], form.Visit.Reader, out from))
        {
            return SensorHosting.Again(form, sensor, "place-from", SensorText.Of("fault-moment", form["place-from"]));
        }

        var change = from > EventTime.From(form.Visit.Now)
            ? AttachmentChange.NotAttached
            : await form.Service<Store>().ChangePlacementAsync(stay, from, placement, cancellationToken);
        return change == AttachmentChange.Done
            ? SensorHosting.Done(form, sensor, [stay.Batch])
            : SensorHosting.Again(form, sensor, "place-from", SensorText.Of("fault-outside-stay", form.Visit.Reader.Moment(from), stay.Name, form.Visit.Reader.Moment(stay.Attachment.From)));
    }

    /// <summary>The sensor leaves its batch and begins in another.</summary>
    public static async Task<IResult> MoveAsync(SentForm form, CancellationToken cancellationToken)
    {
        var sensor = SensorHosting.SensorOf(form.Context);
        var store = form.Service<Store>();
        var stays = store.ReadStays(sensor);
        var stay = stays.FirstOrDefault(one => KeyOf(one) == form["stay"]);
        if (!SettingWords.Placements.TryGetValue(form["placement"], out var placement))
        {
            return SensorHosting.Again(form, sensor, "move-at", SensorText.Of("fault-placement", form["placement"]));
        }

        if (!LocalMoment.TryRead(form["move-at"], form.Visit.Reader, out var at))
        {
            return SensorHosting.Again(form, sensor, "move-at", SensorText.Of("fault-moment", form["move-at"]));
        }

        // A reading of this minute may be a few seconds ahead of the field.
        if (at > EventTime.From(form.Visit.Now) + TimeSpan.FromMinutes(1))
        {
            return SensorHosting.Again(form, sensor, "move-at", SensorText.Of("fault-future", form.Visit.Reader.Moment(at)));
        }

        var batch = new BatchId(form["batch"]);
        var change = await store.MoveSensorAsync(stay, new SensorAttachment(sensor, at, null, placement), batch, cancellationToken);
        return change switch
        {
            AttachmentChange.Done => SensorHosting.Done(form, sensor, stay is null ? [batch] : [stay.Batch, batch]),
            AttachmentChange.NoSuchBatch => SensorHosting.Again(form, sensor, "move-at", SensorText.Of("fault-batch", form["batch"])),
            AttachmentChange.Overlapping => SensorHosting.Again(form, sensor, "move-at", Overlap(form, stays, stay, at)),
            _ => SensorHosting.Again(form, sensor, "move-at", stay is null
                ? SensorText.Of("fault-stay")
                : SensorText.Of("fault-before-stay", form.Visit.Reader.Moment(at), stay.Name, form.Visit.Reader.Moment(stay.Attachment.From))),
        };
    }

    /// <summary>A stay as a form names it.</summary>
    public static string KeyOf(SensorStay stay) =>
        stay.Batch.Value + "@" + stay.Attachment.From.UnixMicroseconds.ToString(CultureInfo.InvariantCulture);

    private static string Overlap(SentForm form, IReadOnlyList<SensorStay> stays, SensorStay? stay, EventTime at)
    {
        var other = stays.FirstOrDefault(one => one != stay && (one.Attachment.Until is not { } until || until > at));
        return other is null
            ? SensorText.Of("fault-stay")
            : other.Attachment.Until is { } end
                ? SensorText.Of("fault-overlap-until", form.Visit.Reader.Moment(at), other.Name, form.Visit.Reader.Moment(end))
                : SensorText.Of("fault-overlap-open", other.Name, form.Visit.Reader.Moment(other.Attachment.From));
    }
}
