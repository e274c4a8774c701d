using FermentWatch.Infrastructure.Storage;
using FermentWatch.Service.Pipeline;

namespace FermentWatch.Service.InOut;

/// <summary>Adds what the pages of import, export and channels stand on.</summary>
internal static class InOutServices
{
    /// <summary>Registers them.</summary>
    /// <param name="services">The host's services.</param>
    /// <param name="dataDirectory">Directory of the data, in which files on their way in and out lie.</param>
    public static IServiceCollection AddInOut(this IServiceCollection services, string dataDirectory)
    {
        services.AddSingleton(provider => new ImportDesk(
            Path.Combine(dataDirectory, "imports"),
            provider.GetRequiredService<Store>(),
            provider.GetRequiredService<PipelineSignals>(),
            provider.GetRequiredService<TimeProvider>(),
            provider.GetRequiredService<ILogger<ImportDesk>>()));
        services.AddSingleton<ChannelTests>();
        services.AddSingleton(new ExportFolder(Path.Combine(dataDirectory, "exports")));
        return services;
    }
}

/// <summary>Where exports lie while they are sent.</summary>
/// <param name="Path">The directory.</param>
internal sealed record ExportFolder(string Path);
