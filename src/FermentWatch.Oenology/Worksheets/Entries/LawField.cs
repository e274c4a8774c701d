using FermentWatch.Oenology.Limits;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>The question of whose limits count.</summary>
internal static class LawField
{
    public static readonly ChoiceInput<Law> Input = new(
        "law",
        "Whose limits",
        [
            (Law.Strictest, "Not chosen: the strictest"),
            (Law.Eu, "European Union"),
            (Law.Us, "United States"),
            (Law.Oiv, "International Organization of Vine and Wine"),
        ],
        Law.Strictest);
}
