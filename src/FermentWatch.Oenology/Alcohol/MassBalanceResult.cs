using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Alcohol;

/// <summary>What an original and a present gravity say about the liquid, each value with its error.</summary>
/// <param name="Alcohol">Alcohol formed. [% vol]</param>
/// <param name="RealExtract">Everything dissolved that is not alcohol, as sucrose. [g/L]</param>
/// <param name="SugarLeft">Estimate of the sugar that is still there, never below 0. Below its tolerance it says no more than
/// 'too little to tell from gravity'. [g/L]</param>
/// <param name="SugarAtStart">Estimate of the sugar at the start. [g/L]</param>
public readonly record struct MassBalanceResult(
    Computed<AlcoholByVolume> Alcohol,
    Computed<SugarConcentration> RealExtract,
    Computed<SugarConcentration> SugarLeft,
    Computed<SugarConcentration> SugarAtStart);
