using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Batches;

/// <summary>Words of an entry that the house put in itself, with their values apart: what comes first in the entry's text, so that every reader gets them in the own language and units.</summary>
/// <param name="Key">Which words: a worksheet's name behind <c>sheet/</c>, the key of a text behind <c>trial/</c>.</param>
/// <param name="Values">What stands in them, in their order.</param>
/// <param name="Length">How many characters of the entry's text they are as it was written; what comes behind is the maker's own.</param>
public sealed record FilledText(string Key, ValueList<FilledValue> Values, int Length);

/// <summary>A value of such words.</summary>
/// <param name="Name">What it is: the key of a worksheet's result, or a name that the words know.</param>
/// <param name="Number">The number in the unit that the worksheet keeps; null for a word.</param>
/// <param name="Digits">Digits after the point in that unit.</param>
/// <param name="Word">A code that has words of its own; null for a number.</param>
public readonly record struct FilledValue(string Name, double? Number, int Digits, string? Word);
