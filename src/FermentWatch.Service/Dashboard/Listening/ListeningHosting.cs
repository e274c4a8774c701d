using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Configuration;
using FermentWatch.Service.Dashboard.Forms;
using FermentWatch.Service.Pipeline;
using Microsoft.AspNetCore.Http.HttpResults;

namespace FermentWatch.Service.Dashboard.Listening;

/// <summary>The listening list and its forms.</summary>
internal static class ListeningHosting
{
    public const string Path = "listening";

    public static void MapListening(this WebApplication app)
    {
        app.MapMethods("/" + Path, ["GET", "HEAD"], static (HttpContext context) => Page(context).ExecuteAsync(context));
        app.MapForm($"/{Path}/keep", KeepAsync);
        app.MapForm($"/{Path}/ignore", (form, stop) => IgnoreAsync(form, ignored: true, stop));
        app.MapForm($"/{Path}/show", (form, stop) => IgnoreAsync(form, ignored: false, stop));
        app.MapForm($"/{Path}/unit", ChangeUnitAsync);
        app.MapForm($"/{Path}/source", ChangeSourceAsync);
        app.MapForm($"/{Path}/retire", RetireAsync);
        app.MapForm($"/{Path}/scope", ScopeAsync);
    }

    /// <summary>Way to the page with a topic chosen.</summary>
    public static string To(string topic) => $"{Path}?topic={Uri.EscapeDataString(topic)}";

    private static RazorComponentResult<ListeningPage> Page(HttpContext context)
    {
        var query = context.Request.Query;
        string? topic = query.ContainsKey("topic") ? query["topic"].ToString() : null;
        context.Response.Headers.CacheControl = "no-store";
        return new RazorComponentResult<ListeningPage>(new Dictionary<string, object?>
        {
            ["Visit"] = DashboardHosting.VisitOf(context),
            ["State"] = ListeningState.Read(context.RequestServices, topic),
            ["Field"] = query.ContainsKey("field") ? query["field"].ToString() : null,
        })
        {
            PreventStreamingRendering = true,
        };
    }

    private static async Task<IResult> KeepAsync(SentForm form, CancellationToken stop)
    {
        var state = ListeningState.Read(form.Context.RequestServices, form["topic"]);
        var faults = new Dictionary<string, string>(StringComparer.Ordinal);
        if (state.Chosen is not { } heard || heard.Values.FirstOrDefault(value => (value.Source?.Text ?? "") == form["field"] && value.Number is not null) is not { } value)
        {
            return FormHosting.Back(form, Path);
        }

        if (!SettingWords.Units.TryGetValue(form["unit"], out var unit))
        {
            faults["unit"] = ListeningText.Of("fault-unit");
        }

        var name = form["sensor"];
        if (!SensorTemplate.TryParse(name, 0, out _, out var problem))
        {
            faults["sensor"] = ListeningText.Of("fault-sensor", name, problem);
        }

        if (!SettingWords.Placements.TryGetValue(form["placement"], out var placement))
        {
            placement = Placement.InLiquid;
        }

        if (!TopicFilter.TryParse(heard.Topic, out var filter, out var broken))
        {
            faults["sensor"] = broken;
        }

        if (faults.Count == 0)
        {
            var field = new FieldMapping(value.Source, UnitConversion.QuantityOf(unit), unit);
            var time = heard.Values.FirstOrDefault(candidate => candidate.Time is not null && candidate.Source?.Text == form["time"]) is { Source: { } source, Time: { } format }
                ? new TimeMapping(source, format)
                : null;
            var had = form.Service<Store>().ReadRaw(new SeriesKey(new SensorId(name), field.Quantity), unit, 1).Count > 0;
            if (await form.Service<MappingBook>().AddAsync(name, filter!, field, time, stop) is { } taken)
            {
                faults["sensor"] = ListeningText.Of("fault-taken", name, ListeningText.Of(taken));
            }
            else
            {
                await TakeHeardAsync(form, new TopicMapping(name, filter!, ValueList.Of<FieldMapping>(field), time), heard.Topic, stop);
                await AttachAsync(form, state, new SensorId(name), placement, had, stop);
                return FormHosting.Back(form, To(heard.Topic));
            }
        }

        return FormHosting.Again<ListeningPage>(form, new Dictionary<string, object?>
        {
            ["State"] = state,
            ["Field"] = form["field"],
            ["Faults"] = faults,
            ["Typed"] = form,
        });
    }

    private static async Task TakeHeardAsync(SentForm form, TopicMapping mapping, string topic, CancellationToken stop)
    {
        if (form.Service<Pipeline.Listening>().Find(topic) is { } heard && HeardReadings.Of(mapping, heard) is { Count: > 0 } rows)
        {
            await form.Service<Store>().ImportAsync(rows, static _ => { }, stop);
            var sensors = rows.SelectMany(row => row).Select(reading => reading.Field.Sensor).ToHashSet();
            form.Service<PipelineSignals>().Touch([.. form.Service<Store>().ReadBatches().Where(batch => batch.Sensors.Any(one => sensors.Contains(one.Sensor))).Select(batch => batch.Id)]);
        }
    }

    private static async Task<IResult> ScopeAsync(SentForm form, CancellationToken stop)
    {
        var text = form["filter"];
        if (TopicFilter.TryParse(text.Length == 0 ? ListeningScope.Every.Text : text, out var filter, out var problem))
        {
            await form.Service<ListeningScope>().KeepAsync(filter, stop);
            return FormHosting.Back(form, Path);
        }

        return FormHosting.Again<ListeningPage>(form, new Dictionary<string, object?>
        {
            ["State"] = ListeningState.Read(form.Context.RequestServices, null),
            ["Faults"] = new Dictionary<string, string>(StringComparer.Ordinal) { ["filter"] = ListeningText.Of("fault-filter", text, problem) },
            ["Typed"] = form,
        });
    }

    /// <summary>A new sensor belongs to the batch from the start; one that was elsewhere before, from now on.</summary>
    private static async Task AttachAsync(SentForm form, ListeningState state, SensorId sensor, Placement placement, bool wasElsewhere, CancellationToken stop)
    {
        if (state.Batches.FirstOrDefault(batch => batch.Id.Value == form["batch"]) is not { } batch || batch.Sensors.Any(known => known.Sensor == sensor && known.Until is null))
        {
            return;
        }

        var now = EventTime.From(form.Service<TimeProvider>().GetUtcNow());
        var from = wasElsewhere && now > batch.InoculatedAt ? now : batch.InoculatedAt;
        if (await form.Service<Store>().AttachSensorAsync(batch.Id, new SensorAttachment(sensor, from, null, placement), stop))
        {
            form.Service<PipelineSignals>().Touch([batch.Id]);
        }
    }

    private static async Task<IResult> IgnoreAsync(SentForm form, bool ignored, CancellationToken stop)
    {
        if (form["topic"].Length > 0)
        {
            await form.Service<Store>().IgnoreTopicAsync(form["topic"], ignored, stop);
        }

        return FormHosting.Back(form, Path);
    }

    private static async Task<IResult> ChangeUnitAsync(SentForm form, CancellationToken stop)
    {
        if (Number(form) is not { } id || !SettingWords.Quantities.TryGetValue(form["quantity"], out var quantity) || !SettingWords.Units.TryGetValue(form["unit"], out var unit))
        {
            return FormHosting.Back(form, Path);
        }

        var book = form.Service<MappingBook>();
        var change = await book.ChangeUnitAsync(id, quantity, unit, stop);
        return change.Fate != FieldChangeFate.Taken
            ? FormHosting.Back(form, Path)
            : FormHosting.Again<ListeningPage>(form, new Dictionary<string, object?>
            {
                ["State"] = ListeningState.Read(form.Context.RequestServices, null),
                ["Faults"] = new Dictionary<string, string>(StringComparer.Ordinal)
                {
                    ["known"] = ListeningText.Of("fault-both", book.Made.First(made => made.Id == id).Mapping.Sensor, ListeningText.Of(UnitConversion.QuantityOf(unit))),
                },
            });
    }

    private static async Task<IResult> ChangeSourceAsync(SentForm form, CancellationToken stop)
    {
        if (Number(form) is { } id && SettingWords.Quantities.TryGetValue(form["quantity"], out var quantity) && JsonPointer.TryParse(form["source"], out var source, out _))
        {
            await form.Service<MappingBook>().ChangeSourceAsync(id, quantity, source, stop);
        }

        return FormHosting.Back(form, Path);
    }

    private static async Task<IResult> RetireAsync(SentForm form, CancellationToken stop)
    {
        if (Number(form) is { } id)
        {
            await form.Service<MappingBook>().RetireAsync(id, stop);
        }

        return FormHosting.Back(form, Path);
    }

    private static long? Number(SentForm form) =>
        long.TryParse(form["id"], System.Globalization.NumberStyles.None, System.Globalization.CultureInfo.InvariantCulture, out var id) ? id : null;
}
