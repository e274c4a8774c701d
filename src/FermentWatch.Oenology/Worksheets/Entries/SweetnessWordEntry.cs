using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Sweetening;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>Whether a wine sparkles.</summary>
internal enum WineStyle
{
    Still,
    Sparkling,
}

/// <summary>Sweetness in the words of the trade.</summary>
internal static class SweetnessWordEntry
{
    private static readonly ChoiceInput<WineStyle> Style = new("style", "Wine", [(WineStyle.Still, "Still"), (WineStyle.Sparkling, "Sparkling")], WineStyle.Still);
    private static readonly NumberInput Sugar = new("sugar", "Sugar measured", QuantityKind.SugarConcentration, 0, 400, Help: "By a sugar test; gravity alone does not show it.");
    private static readonly NumberInput Acidity = new("titratable-acidity", "Titratable acidity", QuantityKind.AcidConcentration, 0, 20, Optional: true, Help: "As tartaric acid; needed for still wine.");
    private static readonly YesNoInput SugarAdded = new("sugar-added", "Sugar added after the second fermentation?", true, "Asked for sparkling wine: only without it may it be called brut nature.");

    private static readonly TextOutput Word = new("sweetness", "Sweetness word");
    private static readonly NumberOutput From = new("sugar-from", "It begins at", QuantityKind.SugarConcentration, 1);
    private static readonly NumberOutput To = new("sugar-to", "and goes to", QuantityKind.SugarConcentration, 1);
    private static readonly TextOutput Scale = new("scale", "The whole scale");

    public static Worksheet Sheet { get; } = new()
    {
        Name = "sweetness-word",
        Subject = WorksheetSubject.Sweetening,
        Title = "Sweetness in words",
        Purpose = "Which word the sugar allows: dry, medium dry (semi-dry), medium (semi-sweet) or sweet for still wine, by sugar and acidity; brut nature to sweet for sparkling. They are words of grape wine; for mead they describe.",
        Inputs = [Style, Sugar, Acidity, SugarAdded],
        Outputs = [Word, From, To, Scale],
        Sources = [WorksheetSource.Published("OIV316", "words of still wine"), WorksheetSource.Published("EC6072009", "words of sparkling wine"), WorksheetSource.FromMemory("Regulation (EU) 2019/33 has the same figures; semi-dry and semi-sweet as local words")],
        Cautions = [Caution.LocalLaw, Caution.BottlePressure],
        Examples =
        [
            WorkedExample.Of("sugar=7 titratable-acidity=6", "OIV 3.1.6: dry to 8 g/L where the acidity is 6", ExpectedResult.Words("sweetness", "dry"), new("sugar-to", 8, 1e-9)),
            WorkedExample.Of("sugar=20 titratable-acidity=6", "OIV 3.1.6: above 16 and below 45 g/L", ExpectedResult.Words("sweetness", "medium (semi-sweet)"), new("sugar-from", 16, 1e-9)),
            WorkedExample.Of("sugar=10 titratable-acidity=3", "OIV 3.1.6: medium dry to 13 g/L where the acidity is 3", ExpectedResult.Words("sweetness", "medium dry (semi-dry)"), new("sugar-to", 13, 1e-9)),
            WorkedExample.Of("style=sparkling sugar=14", "Regulation (EC) 607/2009, Annex XIV part A: 12 to 17 g/L", ExpectedResult.Words("sweetness", "extra dry"), new("sugar-from", 12, 1e-9), new("sugar-to", 17, 1e-9)),
        ],
        Compute = Compute,
    };

    private static WorksheetAnswer Compute(WorksheetValues values) => values.Of(Style) is WineStyle.Sparkling ? Sparkling(values) : Still(values);

    private static WorksheetAnswer Still(WorksheetValues values)
    {
        var acidity = values.Needed(Acidity, "because the words of still wine depend on it");
        var word = Sweetness.Of(SugarConcentration.FromGramsPerLiter(values.Of(Sugar)), acidity);
        return Answer(
            SweetnessWords.Of(word),
            Sweetness.LowestOf(word, acidity),
            word is SweetnessCategory.Sweet ? null : Sweetness.HighestOf(word, acidity),
            Enum.GetValues<SweetnessCategory>().Select(one => Line(SweetnessWords.Of(one), Sweetness.LowestOf(one, acidity), one is SweetnessCategory.Sweet ? null : Sweetness.HighestOf(one, acidity))));
    }

    private static WorksheetAnswer Sparkling(WorksheetValues values)
    {
        var word = SparklingWords.Of(SugarConcentration.FromGramsPerLiter(values.Of(Sugar)), values.Of(SugarAdded));
        return Answer(
            SweetnessWords.Of(word),
            SparklingWords.LowestOf(word),
            word is SparklingSweetness.Sweet ? null : SparklingWords.HighestOf(word),
            Enum.GetValues<SparklingSweetness>().Select(one => Line(SweetnessWords.Of(one), SparklingWords.LowestOf(one), one is SparklingSweetness.Sweet ? null : SparklingWords.HighestOf(one))));
    }

    private static WorksheetAnswer Answer(Phrase word, double from, double? to, IEnumerable<Phrase> scale) => new(
        [Word.Is(word), From.Is(from), .. to is { } end ? new[] { To.Is(end) } : [], Scale.Is([.. scale])],
        [WorksheetNotice.Note("word-not-stability", "A dry word is no proof that nothing can ferment: 2 g/L of sugar are enough for that.")]);

    private static Phrase Line(Phrase word, double from, double? to) => to is { } end
        ? (Phrase)$"{word}: {from:0.#} to {end:0.#} g/L"
        : $"{word}: from {from:0.#} g/L";
}
