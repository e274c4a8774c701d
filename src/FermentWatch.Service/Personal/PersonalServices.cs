using FermentWatch.Infrastructure.Storage;
using Microsoft.AspNetCore.DataProtection;

namespace FermentWatch.Service.Personal;

/// <summary>Adds people's own channels to a host.</summary>
internal static class PersonalServices
{
    public static void AddPersonal(this IServiceCollection services, Func<IServiceProvider, ChannelHouse> house)
    {
        services.AddSingleton(provider => new WishBook(provider.GetRequiredService<Store>(), provider.GetRequiredService<IDataProtectionProvider>(), house(provider)));
        services.AddSingleton<TestLimit>();
    }
}
