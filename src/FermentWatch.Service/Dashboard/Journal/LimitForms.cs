using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Dashboard.Forms;
using FermentWatch.Service.Dashboard.Words;
using FermentWatch.Service.Pipeline;

namespace FermentWatch.Service.Dashboard.Journal;

/// <summary>When a batch's alerts speak: every limit and hold, in the reader's units.</summary>
internal static class LimitForms
{
    private static readonly JournalKindEntry Form = new(0, "limits", ValueList.Of(AlertLimitCatalog.All.Select(limit => limit.Field)));

    public static IResult Show(HttpContext context, string id)
    {
        var visit = DashboardHosting.VisitOf(context);
        if (visit.Snapshot.Find(id) is not { } entry || context.RequestServices.GetService<LimitBook>() is not { } book)
        {
            return JournalHosting.NotFound(context, visit);
        }

        var present = book.OfAll.For(book.Of(new BatchId(id)));
        return JournalHosting.Page<LimitsPage>(context, new() { ["Visit"] = visit, ["Entry"] = entry, ["Typed"] = Typed(present, visit.Reader), ["Own"] = book.Of(new BatchId(id)) });
    }

    public static async Task<IResult> KeepAsync(SentForm form, CancellationToken cancellation)
    {
        var id = new BatchId(form.Context.Request.RouteValues["id"]?.ToString() ?? "");
        if (form.Visit.Snapshot.Find(id.Value) is not { } entry)
        {
            return JournalHosting.NotFound(form.Context, form.Visit);
        }

        var book = form.Service<LimitBook>();
        var present = book.OfAll.For(book.Of(id));
        var read = JournalForm.Read(Form, name => form[name], new FieldNumbers(form.Visit.Reader, name => AlertLimitCatalog.Find(name)?.Of(present)).Read);
        var own = OwnLimits.Differing(book.OfAll, read.Values.ToDictionary(value => value.Field, value => value.Number!.Value, StringComparer.Ordinal));
        var crossed = read.Faults.Count > 0 ? [] : OwnLimits.Crossed(book.OfAll.For(own)).ToList();
        if (read.Faults.Count > 0 || crossed.Count > 0)
        {
            return FormHosting.Again<LimitsPage>(form, new()
            {
                ["Entry"] = entry,
                ["Own"] = book.Of(id),
                ["Typed"] = Form.Fields.ToDictionary(field => field.Name, field => form[field.Name], StringComparer.Ordinal),
                ["Faults"] = read.Faults,
                ["Sentences"] = crossed.GroupBy(pair => pair.Upper.Field.Name).ToDictionary(pairs => pairs.Key, pairs => Crossed(pairs.First(), book.OfAll.For(own), form.Visit.Reader)),
            });
        }

        try
        {
            await book.KeepAsync(id, own, cancellation);
        }
        catch (StorageUnavailableException failure)
        {
            return FormHosting.Again<LimitsPage>(form, new()
            {
                ["Entry"] = entry,
                ["Own"] = book.Of(id),
                ["Typed"] = Form.Fields.ToDictionary(field => field.Name, field => form[field.Name], StringComparer.Ordinal),
                ["Problem"] = JournalText.Of("not-written", failure.Message),
            });
        }

        form.Service<PipelineSignals>().Touch([id]);
        return FormHosting.Back(form, $"batch/{id}");
    }

    private static Dictionary<string, string> Typed(AlertSettings present, Reader reader) => AlertLimitCatalog.All.ToDictionary(
        limit => limit.Field.Name, limit => reader.FieldText(limit.Of(present), limit.Field.Unit, limit.Field.Digits), StringComparer.Ordinal);

    private static string Crossed((AlertLimit Lower, AlertLimit Upper) pair, AlertSettings settings, Reader reader) => JournalText.Of(
        "fault-limit-crossed",
        FieldWords.Label(pair.Upper.Field.Name),
        reader.FieldText(pair.Upper.Of(settings), pair.Upper.Field.Unit, pair.Upper.Field.Digits),
        FieldWords.Label(pair.Lower.Field.Name),
        reader.FieldText(pair.Lower.Of(settings), pair.Lower.Field.Unit, pair.Lower.Field.Digits));
}
