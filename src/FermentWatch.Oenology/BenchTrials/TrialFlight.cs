using System.Collections.Immutable;
using System.Text.Json.Serialization;
using FermentWatch.Oenology.Tasting;

namespace FermentWatch.Oenology.BenchTrials;

/// <summary>Glasses that are tasted in one sitting.</summary>
/// <param name="Number">1 for the first.</param>
/// <param name="Glasses">Control first, then doses, then the twin; never shown to tasters in this order.</param>
/// <param name="Serving">Who gets them in which order; null for a free glass.</param>
/// <param name="Scores">What was said.</param>
public sealed record TrialFlight(int Number, ImmutableArray<TrialGlass> Glasses, ServingPlan? Serving, ImmutableArray<GlassScore> Scores)
{
    /// <summary>Orders that tasters put the glasses in, one a taster; null when nobody gave one.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public ImmutableArray<GlassRanking>? Orders { get; init; }

    /// <summary>The same; empty when nobody gave one.</summary>
    [JsonIgnore]
    public ImmutableArray<GlassRanking> Rankings => Orders ?? [];

    /// <summary>Codes in the order in which a taster gets them.</summary>
    /// <param name="taster">Place of the taster in the trial's list, from 0.</param>
    public ImmutableArray<string> CodesFor(int taster) =>
        Serving is null ? [.. Glasses.Select(glass => glass.Code)] : [.. Serving.Orders[taster].Select(glass => Glasses[glass].Code)];

    /// <summary>The glass with this code, or null.</summary>
    public TrialGlass? Find(string code)
    {
        ArgumentNullException.ThrowIfNull(code);
        return Glasses.FirstOrDefault(glass => glass.Code == code);
    }

    /// <summary>The twin, or null.</summary>
    [JsonIgnore]
    public TrialGlass? Twin => Glasses.FirstOrDefault(glass => glass.Role is GlassRole.Twin);
}
