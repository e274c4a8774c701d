using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Tasting;
using FermentWatch.Oenology.Worksheets;

namespace FermentWatch.Oenology.Tests.Tasting;

/// <summary>What standards say about how a test is run, against what the plans do; rules without a number are checked as behavior.</summary>
public sealed class MethodGuidanceTests
{
    private const double Level = DifferenceTest.UsualLevel;

    // 32 to 36 people for a difference: with so many, a triangle finds what half of them can tell, nearly always; with three it hardly does.
    [Fact]
    public void PanelOfTheStandards_HasThePowerThatThreeLack()
    {
        var panel = (int)Guidance("001").Numbers[0];
        Assert.True(DifferenceTest.Power(DifferenceMethod.Triangle, panel, 0.5) > 0.9);
        Assert.True(DifferenceTest.Power(DifferenceMethod.DuoTrio, panel, 0.5) > 0.8);
        Assert.True(DifferenceTest.Power(DifferenceMethod.Triangle, 3, 0.5) < 0.5);
    }

    // Sameness needs about 72; here nobody is ever told that glasses are the same.
    [Fact]
    public void Sameness_IsNeverClaimed()
    {
        Assert.Contains("72", Guidance("002").Expected, StringComparison.Ordinal);
        Assert.Contains("no significant result is no proof of sameness", Caution.FewTasters.Text, StringComparison.Ordinal);
        Assert.Equal(["NotEnoughTasters", "NotSignificant", "Significant"], Enum.GetNames<TastingVerdict>().Order(StringComparer.Ordinal));
    }

    [Fact]
    public void Codes_HaveThreeDigitsAndNeverRepeat()
    {
        Assert.Equal("required", Guidance("003").Expected);
        var codes = GlassCodes.Draw(36, 5);
        Assert.All(codes, code => Assert.Matches("^[1-9][0-9]{2}$", code));
        Assert.Equal(codes.Length, codes.Distinct().Count());
    }

    // Seven of seven in the published table; five of five is where chance alone first falls to one in twenty.
    [Fact]
    public void DuoTrio_NeedsFiveByChanceAndSevenIsInside()
    {
        Assert.Equal([7.0, 7, 5, 5], Guidance("005").Numbers);
        Assert.Equal(5, DifferenceTest.FewestTasters(DifferenceMethod.DuoTrio));
        Assert.True(DifferenceTest.ProbabilityByChance(DifferenceMethod.DuoTrio, 7, 7) < Level);
    }

    // From memory: the six orders of a triangle equally often.
    [Fact]
    public void Triangles_UseTheSixOrdersAlike()
    {
        var orders = Guidance("006").Expected.Split(' ').Where(word => word.Length == 3 && word.All(letter => letter is 'A' or 'B')).ToList();
        Assert.Equal(6, orders.Count);
        var drawn = ServingOrders.Triangles(12, 8);
        Assert.All(orders, order => Assert.Equal(2, drawn.Count(one => one == order)));
    }

    // Repeats by one person count for a difference, not for sameness: said at the field where tasters are counted.
    [Fact]
    public void Repeats_AreSpokenOf()
    {
        Assert.StartsWith("allowed for difference testing", Guidance("008").Expected, StringComparison.Ordinal);
        var tasters = WorksheetCatalog.Find("tasting-difference")!.Inputs.OfType<NumberInput>().Single(input => input.Key == "tasters");
        Assert.Contains("not independent for showing sameness", tasters.Help, StringComparison.Ordinal);
    }

    // A best estimate of one person's threshold, and of a group only from more than a few: neither is called the threshold of people.
    [Fact]
    public void BestEstimate_IsSaidToBeOne()
    {
        Assert.StartsWith("a best estimate near", Choice("054").Expected, StringComparison.Ordinal);
        var sheet = WorksheetCatalog.Find("taste-threshold")!;
        Assert.Contains(sheet.Sources, source => source.Text.StartsWith("best estimate", StringComparison.Ordinal));
        Assert.Contains("It holds for you", sheet.Purpose, StringComparison.Ordinal);
    }

    // 50 to 100 presentations for a group: fewer than five people's thresholds are never called a group's. From memory: 3 to 4 people are no group.
    [Fact]
    public void FewPeople_AreNoGroup()
    {
        Assert.StartsWith("50-100 3-AFC presentations", Choice("055").Expected, StringComparison.Ordinal);
        Assert.Equal("from-memory", Choice("060").Status);
        Assert.Contains("from 3-4 people is not a threshold", Choice("060").Expected, StringComparison.Ordinal);
        Assert.All<int>([1, 3, 4], people => Assert.False(ForcedChoice.Group([.. Enumerable.Range(1, people).Select(one => (double)one)]).IsGroupThreshold));
        Assert.True(ForcedChoice.Group([1, 2, 3, 4, 5]).IsGroupThreshold);
    }

    // Six ascending triads of two plain glasses and a spiked one.
    [Fact]
    public void Series_IsPlannedAsPublished()
    {
        Assert.StartsWith("six ascending triads: two blanks and one spike", Choice("057").Expected, StringComparison.Ordinal);
        var series = ForcedChoiceSeries.Plan(0.1, 2, 6, "g/L", 4);
        Assert.Equal(6, series.Steps.Length);
        Assert.All(series.Steps, step => Assert.Equal(3, step.Codes.Length));
        Assert.All(series.Steps, step => Assert.Contains(step.SpikedCode, step.Codes));
        Assert.All(series.Steps.Zip(series.Steps.Skip(1)), pair => Assert.True(pair.Second.Concentration > pair.First.Concentration));
    }

    // From memory: steps of 2 to 3 times, 1.5 for fine work.
    [Fact]
    public void StepFromMemory_IsTheOneThatIsAdvised()
    {
        Assert.Equal("from-memory", Choice("059").Status);
        Assert.Equal([2.0, 3, 1.5], Choice("059").Numbers);
        var field = WorksheetCatalog.Find("taste-threshold")!.Inputs.Single(input => input.Key == "concentrations");
        Assert.Contains("2 to 3 times", field.Help, StringComparison.Ordinal);
        Assert.Equal(4, ForcedChoiceSeries.Plan(0.1, 1.5, 4, "g/L", 4).Steps.Length);
    }

    private static ReferenceRow Guidance(string number) => ReferenceTable.Row("sensory-method-guidance.csv", "SEN-method-guidance-" + number);

    private static ReferenceRow Choice(string number) => ReferenceTable.Row("sensory-forced-choice.csv", "SEN-forced-choice-" + number);
}
