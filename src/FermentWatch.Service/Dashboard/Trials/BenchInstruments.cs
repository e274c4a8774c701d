using System.Collections.Immutable;
using System.Text.Json;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Oenology.BenchTrials;

namespace FermentWatch.Service.Dashboard.Trials;

/// <summary>What the maker weighs and measures with: asked once, kept for every trial.</summary>
/// <param name="Scales">One or two scales.</param>
/// <param name="Syringe">The syringe that stock is dosed with.</param>
/// <param name="CylinderDivisionMilliliters">Marks of what wine is measured with. [mL]</param>
public sealed record BenchInstruments(ImmutableArray<WeighingScale> Scales, DosingSyringe Syringe, double CylinderDivisionMilliliters)
{
    private const string Property = "bench-instruments";

    /// <summary>As a trial is planned with them.</summary>
    public TrialEquipment Equipment => new(Scales, Syringe, CylinderDivisionMilliliters: CylinderDivisionMilliliters);

    /// <summary>What was told; null as long as nobody did.</summary>
    public static BenchInstruments? Read(Store store)
    {
        ArgumentNullException.ThrowIfNull(store);
        return store.ReadProperties(Property).TryGetValue(Property, out var json) ? JsonSerializer.Deserialize<BenchInstruments>(json) : null;
    }

    /// <summary>Where the steps of the scales are asked: with the other instruments once those were told, else on the short form.</summary>
    public static string AddressOfScales(IServiceProvider? services) =>
        services?.GetService<Store>() is { } store && Read(store) is not null ? "trials/instruments" : "preferences/scales";

    /// <summary>Keeps what was told.</summary>
    public Task WriteAsync(Store store, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(store);
        return store.WritePropertiesAsync(new Dictionary<string, string?> { [Property] = JsonSerializer.Serialize(this) }, cancellationToken);
    }
}
