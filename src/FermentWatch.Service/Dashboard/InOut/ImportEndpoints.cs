using System.Text;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Service.Dashboard.Forms;
using FermentWatch.Service.Dashboard.Words;
using FermentWatch.Service.InOut;
using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.Http.Features;
using Microsoft.AspNetCore.Http.HttpResults;

namespace FermentWatch.Service.Dashboard.InOut;

/// <summary>The way of a file of readings: handed in, looked over, stored.</summary>
internal static class ImportEndpoints
{
    // Beyond the largest file there is room to say in words that it is too large.
    private const long LargestRequest = 4 * ImportDesk.LargestFile;

    public static void Map(WebApplication app)
    {
        app.MapMethods("/import", ["GET", "HEAD"], context => InOutPages.Page<ImportPage>(context, []).ExecuteAsync(context));
        app.MapPost("/import", ReceiveAsync).DisableAntiforgery();
        app.MapMethods("/import/{key}", ["GET", "HEAD"], IResult (string key, HttpContext context) => Find(context, key) is { } file
            ? file.State == ImportState.Previewed ? Look(context, file, null, null) : Run(context, file)
            : Gone(context));
        app.MapMethods("/import/{key}/refused.csv", ["GET", "HEAD"], IResult (string key, HttpContext context) => Find(context, key) is { } file ? Refused(context, file) : Gone(context));
        app.MapForm("/import/{key}", (form, _) => Task.FromResult(Decide(form)));
        app.MapForm("/import/{key}/stop", (form, _) => Task.FromResult(Stop(form)));
    }

    private static ImportFile? Find(HttpContext context, string? key) => context.RequestServices.GetRequiredService<ImportDesk>().Find(key ?? "");

    private static async Task<IResult> ReceiveAsync(HttpContext context, IAntiforgery antiforgery, ImportDesk desk)
    {
        if (context.Features.Get<IHttpMaxRequestBodySizeFeature>() is { IsReadOnly: false } limit)
        {
            limit.MaxRequestBodySize = LargestRequest;
        }

        IFormCollection form;
        try
        {
            form = await context.Request.ReadFormAsync(context.RequestAborted);
        }
        catch (Exception fault) when (fault is InvalidDataException or BadHttpRequestException or InvalidOperationException)
        {
            return Again(context, InOutText.Of("import-too-long"));
        }

        if (!await antiforgery.IsRequestValidAsync(context))
        {
            return Results.BadRequest(PageText.Of("form-stale"));
        }

        var rows = form["rows"].ToString();
        if (form.Files.GetFile("file") is { Length: > 0 } file)
        {
            if (file.Length > ImportDesk.LargestFile)
            {
                return Again(context, InOutText.Of("import-large", Figures.Count((file.Length + 999_999) / 1_000_000)));
            }

            await using var content = file.OpenReadStream();
            return await TakenAsync(file.FileName, content);
        }

        if (rows.Trim().Length == 0)
        {
            return Again(context, InOutText.Of("import-none"));
        }

        using var pasted = new MemoryStream(Encoding.UTF8.GetBytes(rows));
        return await TakenAsync("pasted", pasted);

        async Task<IResult> TakenAsync(string name, Stream content)
        {
            var added = await desk.AddAsync(ImportWords.Short(Path.GetFileName(name.Replace('\\', '/'))), content, context.RequestAborted);
            return Results.LocalRedirect("~/import/" + added.Key);
        }
    }

    private static IResult Decide(SentForm form)
    {
        if (Find(form.Context, form.Context.Request.RouteValues["key"]?.ToString()) is not { } file)
        {
            return Gone(form.Context);
        }

        if (file.State != ImportState.Previewed)
        {
            return FormHosting.Back(form, "import/" + file.Key);
        }

        var faults = new Dictionary<string, string>();
        var choices = ImportForm.Read(file, name => form[name], Guess(form.Context, file), faults);
        // What is stored is what was shown: a choice that changed since is looked at first.
        if (faults.Count > 0 || form["do"] != "store" || form["shown"] != ImportForm.Fingerprint(choices))
        {
            return Look(form.Context, file, choices, name => form[name], faults);
        }

        form.Service<ImportDesk>().Start(file, choices);
        return FormHosting.Back(form, "import/" + file.Key);
    }

    private static IResult Stop(SentForm form)
    {
        if (Find(form.Context, form.Context.Request.RouteValues["key"]?.ToString()) is not { } file)
        {
            return Gone(form.Context);
        }

        file.Stop.Cancel();
        return FormHosting.Back(form, "import/" + file.Key);
    }

    private static ImportChoices Guess(HttpContext context, ImportFile file)
    {
        var name = string.Concat(Path.GetFileNameWithoutExtension(file.Name).Where(letter => char.IsLetterOrDigit(letter) || letter is '-' or '_' or ' ')).Trim();
        return ImportGuess.Of(file.Open, context.RequestServices.GetRequiredService<Reader>().Zone, name.Length > 0 ? name : "imported");
    }

    private static RazorComponentResult<ImportLookPage> Look(HttpContext context, ImportFile file, ImportChoices? chosen, Func<string, string>? typed, Dictionary<string, string>? faults = null)
    {
        var choices = chosen ?? Guess(context, file);
        faults ??= [];
        if (chosen is null)
        {
            ImportForm.Check(choices, faults);
        }

        var services = context.RequestServices;
        var now = services.GetRequiredService<TimeProvider>().GetUtcNow();
        using var text = file.Open();
        return InOutPages.Page<ImportLookPage>(
            context,
            new()
            {
                ["File"] = file,
                ["Choices"] = choices,
                ["Preview"] = ImportPreview.Of(file, choices, services.GetRequiredService<Store>(), now),
                ["Head"] = ImportGuess.Head(text, choices.Separator),
                ["Faults"] = faults,
                ["ZoneText"] = typed is null || typed("zone").Length == 0 ? choices.Zone.Id : typed("zone"),
                ["Query"] = typed is null ? "" : Query(typed, choices),
            },
            faults.Count > 0 && chosen is not null ? StatusCodes.Status422UnprocessableEntity : null);
    }

    private static string Query(Func<string, string> typed, ImportChoices choices) => QueryString.Create(ImportForm.Fields
        .Concat(choices.Columns.Select((_, i) => "c" + i))
        .Select(name => KeyValuePair.Create<string, string?>(name, typed(name)))).ToString();

    private static RazorComponentResult<ImportRunPage> Run(HttpContext context, ImportFile file)
    {
        if (file.State == ImportState.Running)
        {
            context.Response.Headers["Refresh"] = "1";
        }

        var hasRefused = file.State != ImportState.Running && Rows(context, file, file.Choices!).Any(row => row.Refusals.Count > 0);
        return InOutPages.Page<ImportRunPage>(context, new() { ["File"] = file, ["HasRefused"] = hasRefused });
    }

    private static IResult Refused(HttpContext context, ImportFile file)
    {
        var query = context.Request.Query;
        var choices = file.Choices
            ?? (query.ContainsKey("zone") ? ImportForm.Read(file, name => query[name].ToString().Trim(), Guess(context, file), []) : Guess(context, file));
        return ExportFile.Send(context.RequestServices.GetRequiredService<ExportFolder>().Path, "refused-rows.csv", "text/csv; charset=utf-8", stream =>
        {
            using var text = new StreamWriter(stream, new UTF8Encoding(false), leaveOpen: true);
            text.Write(CsvCells.Row("line", "reason", "cells"));
            foreach (var row in Rows(context, file, choices).Where(row => row.Refusals.Count > 0))
            {
                text.Write(CsvCells.Row([row.Record.Line, string.Join("; ", row.Refusals.Select(ImportWords.Of)), .. row.Record.Cells]));
            }
        });
    }

    private static IEnumerable<ImportRow> Rows(HttpContext context, ImportFile file, ImportChoices choices)
    {
        using var text = file.Open();
        foreach (var row in new ImportRowReader(choices, context.RequestServices.GetRequiredService<TimeProvider>().GetUtcNow()).Read(text))
        {
            yield return row;
        }
    }

    private static RazorComponentResult<ImportPage> Again(HttpContext context, string fault) =>
        InOutPages.Page<ImportPage>(context, new() { ["Fault"] = fault }, StatusCodes.Status422UnprocessableEntity);

    private static RazorComponentResult<ImportPage> Gone(HttpContext context) =>
        InOutPages.Page<ImportPage>(context, new() { ["Fault"] = InOutText.Of("import-gone") }, StatusCodes.Status404NotFound);
}
