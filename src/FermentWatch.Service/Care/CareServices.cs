using FermentWatch.Infrastructure.Storage;
using FermentWatch.Service.Configuration;

namespace FermentWatch.Service.Care;

/// <summary>Adds health, metrics, backups and diagnostics.</summary>
internal static class CareServices
{
    /// <summary>Registers them.</summary>
    public static void AddCare(this IServiceCollection services, ServiceSettings settings)
    {
        services.AddSingleton(settings);
        services.AddSingleton(provider => new BackupDesk(new StoreOptions(settings.DataDirectory), settings.Backup, provider.GetRequiredService<TimeProvider>()));
        services.AddSingleton<HealthReader>();
        services.AddSingleton<ServiceMetrics>();
        services.AddHostedService<BackupLoop>();
        services.AddHostedService<HealthLoop>();
    }
}
