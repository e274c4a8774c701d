using FermentWatch.Service.Dashboard.Acts;
using FermentWatch.Service.Dashboard.Bench;
using FermentWatch.Service.Dashboard.Brokers;
using FermentWatch.Service.Dashboard.Forms;
using FermentWatch.Service.Dashboard.Help;
using FermentWatch.Service.Dashboard.InOut;
using FermentWatch.Service.Dashboard.Journal;
using FermentWatch.Service.Dashboard.Listening;
using FermentWatch.Service.Dashboard.Pages;
using FermentWatch.Service.Dashboard.Pictures;
using FermentWatch.Service.Dashboard.Preferences;
using FermentWatch.Service.Dashboard.Sensors;
using FermentWatch.Service.Dashboard.Trials;
using FermentWatch.Service.Dashboard.Trials.Tasting;
using FermentWatch.Service.Dashboard.Words;
using FermentWatch.Service.Pipeline;
using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.ResponseCompression;
using Microsoft.Extensions.DependencyInjection.Extensions;

namespace FermentWatch.Service.Dashboard;

/// <summary>Adds the pages to a host.</summary>
public static class DashboardHosting
{
    /// <summary>Registers the board, the reader and what the pages need. The pipeline fills the <see cref="Board"/>.</summary>
    public static IServiceCollection AddDashboard(this IServiceCollection services, DashboardOptions options)
    {
        ArgumentNullException.ThrowIfNull(options);
        if (options.PathBase is { Length: > 0 } path && (path[0] != '/' || path[^1] == '/'))
        {
            throw new ArgumentException($"PathBase is '{path}'; it must be empty, or begin with '/' and not end with it, such as '/cellar'.", nameof(options));
        }

        services.AddSingleton(options);
        // Without a store, what the reader chooses lasts as long as the host.
        services.TryAddSingleton(new PreferenceBook(new PreferenceSet { Zone = options.Zone }, new Dictionary<string, string>(), static (_, _) => Task.CompletedTask));
        services.AddTransient(provider => provider.GetRequiredService<PreferenceBook>().Reader);
        services.AddSingleton(provider => new Board(provider.GetService<TimeProvider>() ?? TimeProvider.System));
        if (!services.Any(service => service.ServiceType == typeof(TimeProvider)))
        {
            services.AddSingleton(TimeProvider.System);
        }

        services.AddRazorComponents();
        services.AddAntiforgery(forms =>
        {
            forms.FormFieldName = FormHosting.TokenField;
            forms.Cookie.Name = "fermentwatch-form";
            forms.Cookie.SameSite = SameSiteMode.Strict;
            forms.Cookie.SecurePolicy = CookieSecurePolicy.SameAsRequest;
            // Our own header says it already.
            forms.SuppressXFrameOptionsHeader = true;
        });
        var keys = services.AddDataProtection().SetApplicationName("FermentWatch");
        if (options.KeyDirectory is { } directory)
        {
            keys.PersistKeysToFileSystem(new DirectoryInfo(directory));
        }

        services.AddResponseCompression(compression =>
        {
            // The pages hold no secret that a guess at compressed sizes could reveal.
            compression.EnableForHttps = true;
            compression.MimeTypes = [.. ResponseCompressionDefaults.MimeTypes, "image/svg+xml"];
        });
        return services;
    }

    /// <summary>Puts the pages, their files, the pictures and the event stream under <see cref="DashboardOptions.PathBase"/>.</summary>
    /// <param name="app">The host.</param>
    /// <param name="beforePages">Puts what stands between routing and the pages, such as the sign-in; null for nothing.</param>
    public static WebApplication MapDashboard(this WebApplication app, Action<WebApplication>? beforePages = null)
    {
        ArgumentNullException.ThrowIfNull(app);
        var options = app.Services.GetRequiredService<DashboardOptions>();
        var preferences = app.Services.GetRequiredService<PreferenceBook>();
        app.UseSecurityHeaders();
        app.UseResponseCompression();
        if (options.PathBase.Length > 0)
        {
            app.UsePathBase(options.PathBase);
            app.Use(static (context, next) =>
            {
                // Relative links need the slash: without it they would leave the base path.
                if (context.Request.PathBase.HasValue && !context.Request.Path.HasValue)
                {
                    context.Response.Redirect(context.Request.PathBase + "/" + context.Request.QueryString, permanent: true);
                    return Task.CompletedTask;
                }

                return next(context);
            });
        }

        app.Use(async (context, next) =>
        {
            // Programs are answered in English, so that nothing they compare changes with a reader's choice.
            using var spoken = context.Request.Path.StartsWithSegments("/api/v1", StringComparison.Ordinal) ? null : preferences.Present.Language.Speak();
            await next(context);
        });
        app.UseExceptionHandler(failed => failed.Run(context => Page<ErrorPage>(context, StatusCodes.Status500InternalServerError).ExecuteAsync(context)));
        app.UseRouting();
        beforePages?.Invoke(app);
        MapPage<DayBookPage>(app, "/");
        MapPage<BatchPage>(app, "/batch/{id}");
        MapPage<BatchTablePage>(app, "/batch/{id}/table");
        MapPage<AlertsPage>(app, "/alerts");
        MapPage<MessagesPage>(app, "/messages");
        MapPage<SettingsPage>(app, "/settings");
        MapPage<ConnectPage>(app, "/connect");
        app.MapActs();
        app.MapHelp();
        app.MapJournal();
        app.MapBench();
        app.MapTrials();
        app.MapGuests();
        PreferencePages.MapPreferences(app);
        app.MapSensors();
        app.MapInOut();
        app.MapListening();
        app.MapBroker();
        AssetFiles.Map(app);
        LiveFeed.Map(app);
        PictureEndpoint.Map(app);
        app.MapFallback("{*path}", context => Page<NotFoundPage>(context, StatusCodes.Status404NotFound).ExecuteAsync(context));
        return app;
    }

    /// <summary>What a page at the request's address stands on.</summary>
    internal static Visit VisitOf(HttpContext context)
    {
        var services = context.RequestServices;
        return new Visit(
            services.GetRequiredService<Board>().State,
            services.GetRequiredService<Reader>(),
            services.GetRequiredService<DashboardOptions>(),
            Visit.UpFrom(context.Request.Path),
            services.GetRequiredService<TimeProvider>().GetUtcNow())
        {
            Way = services.GetService<BrokerChoice>() is { } broker ? () => BrokerWay.Of(broker.Now) : null,
            Waiting = services.GetService<Pipeline.Listening>() is { } listening ? () => listening.KnownCount : null,
            Token = () => services.GetRequiredService<IAntiforgery>().GetAndStoreTokens(context).RequestToken!,
        };
    }

    private static void MapPage<TPage>(WebApplication app, string route)
        where TPage : IComponent => app.MapMethods(route, ["GET", "HEAD"], static context => Page<TPage>(context, null).ExecuteAsync(context));

    private static RazorComponentResult<TPage> Page<TPage>(HttpContext context, int? status)
        where TPage : IComponent
    {
        var visit = VisitOf(context);
        var parameters = new Dictionary<string, object?> { ["Visit"] = visit };
        if (context.Request.RouteValues.TryGetValue("id", out var id) && typeof(TPage).GetProperty("Id") is not null)
        {
            parameters["Id"] = id?.ToString() ?? "";
            if (visit.Snapshot.Find((string)parameters["Id"]!) is null)
            {
                status = StatusCodes.Status404NotFound;
            }
        }

        if (typeof(TPage) == typeof(BatchPage))
        {
            // An address that was typed wrong shows the whole curve rather than nothing.
            parameters["Kind"] = PictureEndpoint.Choice<CurveKind>(context.Request.Query, "view", []);
            parameters["Part"] = PictureEndpoint.Choice<CurvePart>(context.Request.Query, "part", []);
            parameters["From"] = PictureEndpoint.Time(context.Request.Query, "from", []);
            parameters["Until"] = PictureEndpoint.Time(context.Request.Query, "until", []);
        }

        context.Response.Headers.CacheControl = "no-store";
        return new RazorComponentResult<TPage>(parameters) { StatusCode = status, PreventStreamingRendering = true };
    }
}
