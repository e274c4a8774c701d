using FermentWatch.Oenology.Bottling;
using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>Text for the label.</summary>
internal static class LabelEntry
{
    private static readonly NumberInput Total = new("total-sulfite", "Total sulfite", QuantityKind.SmallDose, 0, 500, Optional: true, Help: "Measured, or the sum of what was added. Yeast forms some by itself.");
    private static readonly YesNoInput EggInput = new("egg", "Fined with egg white?", Usual: false);
    private static readonly YesNoInput MilkInput = new("milk", "Fined with casein or milk?", Usual: false);
    private static readonly YesNoInput FishInput = new("fish", "Fined with isinglass or other fish?", Usual: false);
    private static readonly YesNoInput HoneyInput = new("honey", "Honey in it?", Usual: false);

    private static readonly TextOutput Text = new("label", "On the label");
    private static readonly NumberOutput AlcoholOutput = new("alcohol-printed", "Alcohol as printed", QuantityKind.Alcohol, 1);

    /// <summary>The entry.</summary>
    public static Worksheet Sheet { get; } = new()
    {
        Name = "label-text",
        Subject = WorksheetSubject.Bottling,
        Title = "Label text",
        Purpose = "What to write on a home bottle so that whoever drinks it knows what is in it: alcohol as a law rounds it, sulfites, finings that some people must not have. Ask your local law.",
        Inputs = [GasFields.Alcohol, GasFields.Bottle, Total, EggInput, MilkInput, FishInput, HoneyInput, LawField.Input],
        Outputs = [Text, AlcoholOutput],
        Sources =
        [
            WorksheetSource.Published("CFR4.22", "sulfites from 10 mg/L, United States"),
            WorksheetSource.FromMemory("sulfites from 10 mg/L and allergens, European Union; rounding of alcohol and its tolerance"),
            WorksheetSource.Published("CFR24.75", "home wine is not for sale, United States"),
        ],
        Cautions = [Caution.Sulfite, Caution.LocalLaw, Caution.HoneyInfants],
        Examples =
        [
            WorkedExample.Of("alcohol=12.7 total-sulfite=80 law=eu", "from memory: half percent steps in the European Union", new("alcohol-printed", 12.5, 0), ExpectedResult.Words("label", "12.5 % vol")),
            WorkedExample.Of("alcohol=12.74 total-sulfite=80 law=us", "from memory: to a tenth in the United States", new ExpectedResult("alcohol-printed", 12.7, 1e-9)),
            WorkedExample.Saying("alcohol=11 total-sulfite=0", "home wine is not for sale: 27 CFR 24.75", "ask-local-law"),
        ],
        Compute = Compute,
    };

    private static WorksheetAnswer Compute(WorksheetValues values)
    {
        var facts = new LabelFacts
        {
            Alcohol = values.Alcohol(GasFields.Alcohol),
            Law = values.Of(LawField.Input),
            Milliliters = values.Of(GasFields.Bottle),
            TotalSulfite = values.Maybe(Total) is { } total ? MassConcentration.FromMilligramsPerLiter(total) : null,
            Egg = values.Of(EggInput),
            Milk = values.Of(MilkInput),
            Fish = values.Of(FishInput),
            Honey = values.Of(HoneyInput),
        };
        var printed = AlcoholOnLabel.Of(facts.Alcohol, facts.Law);
        var notices = new List<WorksheetNotice>
        {
            WorksheetNotice.Note("ask-local-law", "Ask your local law what a label must say; allergens of finings are named in most places. Home-made wine is not for sale in many."),
            WorksheetNotice.Note("alcohol-tolerance", $"The printed alcohol may be off by {printed.TolerancePercent:0.#} % vol (from memory). An estimate from gravity is ±0.5 % vol at best: for trade it has to be measured."),
        };
        if (facts.TotalSulfite is null)
        {
            notices.Add(WorksheetNotice.Note("sulfite-unknown", "The total sulfite is not known: the label says that it is there."));
        }

        if (facts.Honey)
        {
            notices.Add(WorksheetNotice.Note(Caution.HoneyInfants.Code, Caution.HoneyInfants.Text));
        }

        return new([Text.Is(LabelText.Words(facts)), AlcoholOutput.Is(printed.Percent)], notices);
    }
}
