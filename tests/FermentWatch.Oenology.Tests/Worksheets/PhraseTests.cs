using FermentWatch.Oenology.Worksheets;

namespace FermentWatch.Oenology.Tests.Worksheets;

/// <summary>Sentences with words and values apart.</summary>
public sealed class PhraseTests
{
    [Fact]
    public void Values_StandBesideTheWords_AndTheSentenceIsAsWritten()
    {
        Phrase phrase = $"Add {new Amount(2.345, "g"):0.0} in {3} parts to {new FieldName("volume")}.";
        Assert.Equal("Add {0} in {1} parts to {2}.", phrase.Template);
        Assert.Equal("Add 2.3 g in 3 parts to volume.", phrase.ToString());
        Assert.Equal([new Amount(2.345, "g"), 3, new FieldName("volume")], phrase.Values.Select(value => value.Value));
    }

    [Fact]
    public void PartsAndWordsWithBraces_AreWrittenOut()
    {
        Phrase inner = $"at most {0.5:0.00}";
        Phrase phrase = $"It {{must}} be {inner}.";
        Assert.Equal("It {must} be at most 0.50.", phrase.ToString());
        Assert.Same(inner, phrase.Values[0].Value);
        Assert.Equal("{as it is}", Phrase.FromString("{as it is}").ToString());
        Assert.Equal("a; b", Phrase.Joined("; ", ["a", "b"]).ToString());
    }

    [Fact]
    public void Branches_KeepTheirValues_WhereTheFirstIsCalledAPhrase()
    {
        static Phrase Said(bool isHigh) => isHigh ? (Phrase)$"{1.5} is high" : $"{0.5} is low";
        Assert.Equal(("{0} is high", "{0} is low"), (Said(true).Template, Said(false).Template));
    }

    [Fact]
    public void BareAmount_LeavesTheUnitOutInEnglish()
    {
        Assert.Equal("1.05", new Amount(1.05, "SG", QuantityKind.Gravity, IsBare: true).ToString());
        Assert.Equal("a number from 0.97 to 1.2 SG", new NumberInput("gravity", "Gravity", QuantityKind.Gravity, 0.97, 1.2).Allowed);
        Assert.Equal("a number from 2.5 to 4.5", new NumberInput("ph", "pH", QuantityKind.Ph, 2.5, 4.5).Allowed);
    }
}
