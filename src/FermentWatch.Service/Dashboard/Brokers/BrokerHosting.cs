using FermentWatch.Infrastructure.Mqtt;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Service.Configuration;
using FermentWatch.Service.Dashboard.Forms;
using FermentWatch.Service.Pipeline;
using Microsoft.AspNetCore.Http.HttpResults;

namespace FermentWatch.Service.Dashboard.Brokers;

/// <summary>The page on which the broker is chosen: one elsewhere is tried before it is kept.</summary>
internal static class BrokerHosting
{
    public const string Path = "broker";

    /// <summary>How long a trial waits for a message of somebody else.</summary>
    public static readonly TimeSpan Listening = TimeSpan.FromSeconds(5);

    public static void MapBroker(this WebApplication app)
    {
        app.MapMethods("/" + Path, ["GET", "HEAD"], static (HttpContext context) => Page(context).ExecuteAsync(context));
        app.MapForm($"/{Path}/external", ExternalAsync);
        app.MapForm($"/{Path}/embedded", EmbeddedAsync);
    }

    private static RazorComponentResult<BrokerPage> Page(HttpContext context)
    {
        context.Response.Headers.CacheControl = "no-store";
        return new RazorComponentResult<BrokerPage>(new Dictionary<string, object?>
        {
            ["Visit"] = DashboardHosting.VisitOf(context),
            ["Choice"] = context.RequestServices.GetRequiredService<BrokerChoice>(),
            ["Link"] = context.RequestServices.GetRequiredService<BrokerLink>(),
            ["Done"] = context.Request.Query["done"].ToString(),
        })
        {
            PreventStreamingRendering = true,
        };
    }

    private static async Task<IResult> ExternalAsync(SentForm form, CancellationToken stop)
    {
        var choice = form.Service<BrokerChoice>();
        if (choice.IsFixed)
        {
            return FormHosting.Back(form, Path);
        }

        var read = BrokerFields.Read(form, choice.Now.External);
        if (read.External is not { } external)
        {
            return Again(form, read.Faults, null);
        }

        try
        {
            var link = form.Service<BrokerLink>();
            var trial = await link.TryAsync(external, form.Service<ListeningScope>().Filter.Text, Listening, stop);
            if (trial.Problem is { } problem)
            {
                return Again(form, read.Faults, BrokerText.Of(problem, form.Visit.Reader));
            }

            // From here on to the end, even when the reader leaves the page.
            await choice.KeepAsync(external, CancellationToken.None);
            await link.SwitchAsync(CancellationToken.None);
            return FormHosting.Back(form, Path + (trial.Heard > 0 ? "?done=heard" : "?done=silent"));
        }
        catch (StorageUnavailableException failure)
        {
            return Again(form, read.Faults, BrokerText.Of("not-kept", failure.Message));
        }
    }

    private static async Task<IResult> EmbeddedAsync(SentForm form, CancellationToken stop)
    {
        var choice = form.Service<BrokerChoice>();
        if (choice.IsFixed || choice.Now.Mode == BrokerMode.Embedded)
        {
            return FormHosting.Back(form, Path);
        }

        var was = choice.Now.External;
        try
        {
            await choice.KeepAsync(null, CancellationToken.None);
            await form.Service<BrokerLink>().SwitchAsync(CancellationToken.None);
            return FormHosting.Back(form, Path + "?done=embedded");
        }
        catch (BrokerStartException failure)
        {
            await choice.KeepAsync(was, CancellationToken.None);
            return Again(form, new Dictionary<string, string>(), failure.Message);
        }
        catch (StorageUnavailableException failure)
        {
            return Again(form, new Dictionary<string, string>(), BrokerText.Of("not-kept", failure.Message));
        }
    }

    private static RazorComponentResult<BrokerPage> Again(SentForm form, IReadOnlyDictionary<string, string> faults, string? problem) =>
        FormHosting.Again<BrokerPage>(form, new Dictionary<string, object?>
        {
            ["Choice"] = form.Service<BrokerChoice>(),
            ["Link"] = form.Service<BrokerLink>(),
            ["Typed"] = form.Fields.ContainsKey("host") ? form : null,
            ["Faults"] = faults,
            ["Problem"] = problem,
        });
}
