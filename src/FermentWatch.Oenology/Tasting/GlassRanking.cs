using System.Collections.Immutable;

namespace FermentWatch.Oenology.Tasting;

/// <summary>The order in which one taster likes the glasses of a flight.</summary>
/// <param name="Taster">Who.</param>
/// <param name="Codes">Every code of the flight, best first.</param>
public sealed record GlassRanking(string Taster, ImmutableArray<string> Codes);
