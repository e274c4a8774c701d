using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Dashboard.Forms;
using FermentWatch.Service.Pipeline;
using Microsoft.AspNetCore.Http.HttpResults;

namespace FermentWatch.Service.Dashboard.Journal;

/// <summary>Starts batches on the page, changes them, puts them away and takes them back.</summary>
internal static class BatchForms
{
    // The redirect leads to the new batch as soon as the monitor has looked at it; at worst to the book, where it comes soon.
    private static readonly TimeSpan LongestWait = TimeSpan.FromSeconds(10);

    private static readonly TimeSpan AheadAllowed = TimeSpan.FromDays(31);

    public static IResult ShowStart(HttpContext context)
    {
        var visit = DashboardHosting.VisitOf(context);
        var sensor = context.Request.Query["sensor"].ToString();
        var typed = new Dictionary<string, string>(StringComparer.Ordinal)
        {
            ["at"] = LocalTime.Typed(BatchStart.For(context.RequestServices, sensor, EventTime.From(visit.Now)), visit.Reader),
            ["sensor"] = sensor,
        };
        return JournalHosting.Page<BatchFormPage>(context, new() { ["Visit"] = visit, ["Typed"] = typed, ["Sensors"] = Sensors(context) });
    }

    public static IResult ShowEdit(HttpContext context, string id)
    {
        var visit = DashboardHosting.VisitOf(context);
        return visit.Snapshot.Find(id) is { } entry && Stored(context, id) is { Origin: BatchOrigin.Page } batch
            ? JournalHosting.Page<BatchFormPage>(context, new()
            {
                ["Visit"] = visit,
                ["Entry"] = entry,
                ["Typed"] = BatchFields.Typed(batch, visit.Reader),
                ["Sensors"] = Sensors(context),
            })
            : JournalHosting.NotFound(context, visit);
    }

    public static async Task<IResult> StartAsync(SentForm form, CancellationToken cancellation)
    {
        var store = form.Service<Store>();
        if (Read(form, null) is not { } batch)
        {
            return Again(form, null, null, null);
        }

        batch = batch with { Id = BatchFields.Key(batch.Name, store.HasBatch) };
        return await PutAsync(form, null, null, batch, cancellation);
    }

    public static async Task<IResult> EditAsync(SentForm form, CancellationToken cancellation)
    {
        var id = IdOf(form);
        if (form.Visit.Snapshot.Find(id) is not { } entry || Stored(form.Context, id) is not { Origin: BatchOrigin.Page } was)
        {
            return JournalHosting.NotFound(form.Context, form.Visit);
        }

        if (Read(form, was) is not { } batch)
        {
            return Again(form, was, entry, null);
        }

        return await PutAsync(form, was, entry, batch, cancellation);
    }

    public static async Task<IResult> ArchiveAsync(SentForm form, CancellationToken cancellation)
    {
        if (!await form.Service<Store>().ArchiveBatchAsync(new BatchId(IdOf(form)), cancellation))
        {
            return JournalHosting.NotFound(form.Context, form.Visit);
        }

        form.Service<PipelineSignals>().Touch([new BatchId(IdOf(form))]);
        await UntilAsync(form, snapshot => snapshot.Find(IdOf(form)) is null, cancellation);
        return FormHosting.Back(form, "archive");
    }

    public static async Task<IResult> RestoreAsync(SentForm form, CancellationToken cancellation)
    {
        var id = IdOf(form);
        if (!await form.Service<Store>().RestoreBatchAsync(new BatchId(id), cancellation))
        {
            return JournalHosting.NotFound(form.Context, form.Visit);
        }

        return await ToBatchAsync(form, new BatchId(id), cancellation);
    }

    private static async Task<IResult> PutAsync(SentForm form, Batch? was, BoardEntry? entry, Batch batch, CancellationToken cancellation)
    {
        try
        {
            var changed = await form.Service<Store>().PutPageBatchAsync(batch, now => Attached(form, now, was, batch.InoculatedAt), cancellation);
            form.Service<PipelineSignals>().Touch(changed);
        }
        catch (StorageUnavailableException failure)
        {
            return Again(form, was, entry, JournalText.Of("not-written", failure.Message));
        }

        return await ToBatchAsync(form, batch.Id, cancellation);
    }

    private static async Task<IResult> ToBatchAsync(SentForm form, BatchId id, CancellationToken cancellation)
    {
        form.Service<PipelineSignals>().Touch([id]);
        return FormHosting.Back(form, await UntilAsync(form, snapshot => snapshot.Find(id.Value) is not null, cancellation) ? $"batch/{id}" : "");
    }

    private static async Task<bool> UntilAsync(SentForm form, Func<BoardSnapshot, bool> isThere, CancellationToken cancellation)
    {
        var board = form.Service<Board>();
        using var limit = CancellationTokenSource.CreateLinkedTokenSource(cancellation);
        limit.CancelAfter(LongestWait);
        try
        {
            await foreach (var _ in board.WatchAsync(limit.Token))
            {
                if (isThere(board.State.Snapshot))
                {
                    return true;
                }
            }
        }
        catch (OperationCanceledException) when (!cancellation.IsCancellationRequested)
        {
            // The monitor is slow today: the answer goes to a page that exists.
        }

        return isThere(board.State.Snapshot);
    }

    /// <summary>The batch that the form describes, or null when a field is at fault.</summary>
    private static Batch? Read(SentForm form, Batch? was) => Faults(form, was).Count > 0
        ? null
        : BatchFields.Batch(was?.Id ?? new BatchId(""), Fields(form, was), InoculatedAt(form, was)!.Value);

    private static JournalFormResult Fields(SentForm form, Batch? was) =>
        JournalForm.Read(BatchFields.Form, name => form[name], new FieldNumbers(form.Visit.Reader, name => BatchFields.Stored(was, name)).Read);

    private static EventTime? InoculatedAt(SentForm form, Batch? was) =>
        was is not null && form["at"] == LocalTime.Typed(was.InoculatedAt, form.Visit.Reader) ? was.InoculatedAt : LocalTime.Read(form["at"], form.Visit.Reader);

    /// <summary>The sensor chosen now; another one that was there leaves now. A moved start moves the first sensor's begin with it.</summary>
    /// <remarks>A choice that was left as the form showed it changes nothing: the sensor may have moved on meanwhile, on its own page.</remarks>
    private static ValueList<SensorAttachment> Attached(SentForm form, ValueList<SensorAttachment> now, Batch? was, EventTime inoculatedAt)
    {
        if (was is not null && form["sensor"] == form[BatchFields.SensorShown]
            && (form["placement"] == form[BatchFields.PlacementShown] || !now.Any(sensor => sensor.Until is null && sensor.Sensor.Value == form["sensor"])))
        {
            return ValueList.Of(now.Select(sensor => sensor.From == was.InoculatedAt && (sensor.Until is not { } until || inoculatedAt < until)
                ? sensor with { From = inoculatedAt }
                : sensor));
        }

        var from = was is null ? inoculatedAt : EventTime.From(form.Visit.Now);
        var name = form["sensor"];
        var placement = BatchFields.PlacementOf(form["placement"]);
        var list = new List<SensorAttachment>();
        var isThere = false;
        foreach (var sensor in now)
        {
            var begin = sensor.From == was?.InoculatedAt ? inoculatedAt : sensor.From;
            if (sensor.Until is null && sensor.Sensor.Value == name)
            {
                isThere = true;
                list.Add(sensor with { From = begin, Placement = placement });
            }
            else if (sensor.Until is not null || begin < from)
            {
                list.Add(sensor with { From = begin, Until = sensor.Until ?? from });
            }
        }

        if (name.Length > 0 && !isThere)
        {
            list.Add(new SensorAttachment(new SensorId(name), from, null, placement));
        }

        return ValueList.Of<SensorAttachment>(list);
    }

    private static Dictionary<string, FieldFault> Faults(SentForm form, Batch? was)
    {
        var read = Fields(form, was);
        var faults = new Dictionary<string, FieldFault>(read.Faults, StringComparer.Ordinal);
        if (InoculatedAt(form, was) is not { } at)
        {
            faults["at"] = form["at"].Length == 0 ? FieldFault.Missing : FieldFault.NoNumber;
        }
        else if (at > EventTime.From(form.Visit.Now + AheadAllowed))
        {
            faults["at"] = FieldFault.OutOfRange;
        }

        foreach (var band in BatchFields.Bands.Where(band => !faults.ContainsKey(band.Low) && !faults.ContainsKey(band.High)))
        {
            double? Of(string field) => read.Values.FirstOrDefault(value => value.Field == field).Number;
            var (low, high) = (Of(band.Low), Of(band.High));
            if (low is null != high is null)
            {
                faults[low is null ? band.Low : band.High] = FieldFault.Missing;
            }
            else if (low >= high)
            {
                faults[band.High] = FieldFault.NoChoice;
            }
        }

        // A sensor that was left as it was shown is no choice of this form.
        if (form["sensor"] is { Length: > 0 } sensor && (was is null || sensor != form[BatchFields.SensorShown]) && (!Sensors(form.Context).Contains(sensor) || OfTheFile(form, sensor) is not null))
        {
            faults["sensor"] = FieldFault.NoChoice;
        }

        return faults;
    }

    /// <summary>A batch of the configuration that has the sensor now.</summary>
    public static Batch? OfTheFile(SentForm form, string sensor) => form.Service<Store>().ReadBatches()
        .FirstOrDefault(batch => batch.Origin == BatchOrigin.File && batch.Sensors.Any(one => one.Sensor.Value == sensor && one.Until is null));

    private static RazorComponentResult<BatchFormPage> Again(SentForm form, Batch? was, BoardEntry? entry, string? problem)
    {
        var names = BatchFields.Form.Fields.Select(field => field.Name).Concat(["at", "sensor", BatchFields.SensorShown, BatchFields.PlacementShown]);
        return FormHosting.Again<BatchFormPage>(form, new()
        {
            ["Entry"] = entry,
            ["Typed"] = names.ToDictionary(name => name, name => form[name], StringComparer.Ordinal),
            ["Faults"] = problem is null ? Faults(form, was) : new Dictionary<string, FieldFault>(),
            ["Sensors"] = Sensors(form.Context),
            ["Holder"] = form["sensor"].Length > 0 ? OfTheFile(form, form["sensor"])?.Name : null,
            ["Problem"] = problem,
        });
    }

    private static List<string> Sensors(HttpContext context) =>
        [.. (context.RequestServices.GetService<Store>()?.ReadSeries() ?? []).Select(series => series.Series.Sensor.Value)
            .Concat(context.RequestServices.GetService<MappingBook>()?.Made.Select(made => made.Mapping.Sensor) ?? []).Distinct(StringComparer.Ordinal)];

    private static Batch? Stored(HttpContext context, string id) =>
        context.RequestServices.GetRequiredService<Store>().ReadBatch(new BatchId(id))?.Facts.Batch;

    private static string IdOf(SentForm form) => form.Context.Request.RouteValues["id"]?.ToString() ?? "";
}
