using FermentWatch.Infrastructure.Storage;
using FermentWatch.Service.Dashboard.Forms;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Http.HttpResults;

namespace FermentWatch.Service.Dashboard.Preferences;

/// <summary>The list of preferences and its short forms.</summary>
internal static class PreferencePages
{
    private const string List = "preferences";

    /// <summary>Maps the list, the forms and what they send.</summary>
    public static void MapPreferences(WebApplication app)
    {
        app.MapMethods("/preferences", ["GET", "HEAD"], (HttpContext context, PreferenceBook book) =>
            Page<PreferencesPage>(context, new() { ["Book"] = book }));
        foreach (var form in PreferenceCatalog.Forms)
        {
            app.MapMethods("/preferences/" + form.Id, ["GET", "HEAD"], (HttpContext context, PreferenceBook book) =>
                Page<PreferenceFormPage>(context, new() { ["Book"] = book, ["Id"] = form.Id }));
            app.MapForm("/preferences/" + form.Id, (sent, cancellationToken) => ChangeAsync(sent, form, cancellationToken));
        }
    }

    private static async Task<IResult> ChangeAsync(SentForm sent, PreferenceForm form, CancellationToken cancellationToken)
    {
        var book = sent.Service<PreferenceBook>();
        var typed = form.Fields.ToDictionary(field => field.Name, field => sent[field.Name], StringComparer.Ordinal);
        var faults = new Dictionary<string, string>(StringComparer.Ordinal);
        var changes = new Dictionary<string, string?>(StringComparer.Ordinal);
        foreach (var field in form.Fields)
        {
            var text = typed[field.Name];
            if (text.Length == 0 && field.IsConfigured)
            {
                changes[field.Key] = null;
            }
            else if (field.Read(book.Present, text) is { Ok: true, Value: { } set })
            {
                // What the configuration says too is left to it.
                changes[field.Key] = field.Text(set) == field.Text(book.Configured) ? null : text;
            }
            else
            {
                faults[field.Name] = PreferenceWords.Fault(field, text, field.Read(book.Present, text).Because, book.Reader);
            }
        }

        if (faults.Count == 0)
        {
            try
            {
                await book.ChangeAsync(changes, cancellationToken);
                return FormHosting.Back(sent, List);
            }
            catch (StorageUnavailableException)
            {
                faults[form.Fields[0].Name] = PreferenceText.Of("fault-not-kept");
            }
        }

        return FormHosting.Again<PreferenceFormPage>(sent, new() { ["Book"] = book, ["Id"] = form.Id, ["Typed"] = typed, ["Faults"] = faults });
    }

    private static RazorComponentResult<TPage> Page<TPage>(HttpContext context, Dictionary<string, object?> parameters)
        where TPage : IComponent
    {
        parameters["Visit"] = DashboardHosting.VisitOf(context);
        context.Response.Headers.CacheControl = "no-store";
        return new RazorComponentResult<TPage>(parameters) { PreventStreamingRendering = true };
    }
}
