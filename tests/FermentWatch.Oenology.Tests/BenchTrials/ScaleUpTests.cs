using System.Globalization;
using System.Numerics;
using FermentWatch.Oenology.BenchTrials;
using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Worksheets;

namespace FermentWatch.Oenology.Tests.BenchTrials;

public sealed class ScaleUpTests
{
    // An independent computation in exact fractions: product = dose x volume / ((1 - bulk x dose) x strength), from the decimal digits of the inputs.
    [Fact]
    public void FiveHundredRandomDoses_RoundByHalfADivisionAtMostAndShowNoneBelowOne()
    {
        const int seed = 500;
        var random = new Random(seed);
        decimal[] divisions = [0.001m, 0.01m, 0.05m, 0.1m, 0.5m, 1m, 2m, 5m];
        var (shown, hidden, tight) = (0, 0, 0);
        for (var i = 0; i < 500; i++)
        {
            var strength = random.Next(2) == 0 ? 1m : Decimal(random, 0.4, 0.999);
            var bulk = Decimal(random, 0.3, 0.9);
            var dose = Decimal(random, 0.001, 1) * (decimal)Math.Pow(10, random.Next(-1, 2));
            var liters = Decimal(random, 1, 60);
            var division = divisions[random.Next(divisions.Length)];
            var additive = TrialAdditive.Sucrose with { ActiveMassFraction = (double)strength, MillilitersPerGram = (double)bulk };
            var plan = ScaleUp.Plan(new(
                new BenchWine((double)liters, 0.1),
                [new(additive, (double)dose)],
                [new WeighingScale("only", 50000, (double)division)])).Plan!;
            var amount = Assert.Single(plan.Additions).Product;

            var exact = Fraction.Of(dose) * Fraction.Of(liters) / ((Fraction.Of(1) - (Fraction.Of(bulk) * Fraction.Of(dose) / (Fraction.Of(1000) * Fraction.Of(strength)))) * Fraction.Of(strength));
            var because = string.Create(CultureInfo.InvariantCulture, $"seed {seed}, dose {i}: {dose} g/L of strength {strength}, bulk {bulk}, in {liters} L on {division} g: {amount}");
            Assert.True(Math.Abs(amount.Exact - exact.ToDouble()) <= 1e-12 * exact.ToDouble(), because);
            if (amount.Shown is { } grams)
            {
                shown++;
                Assert.True(grams >= division, because);
                Assert.True(grams % division == 0, because);
                var gap = (Fraction.Of(grams) - exact).Magnitude();
                Assert.True(gap <= (Fraction.Of(division) / Fraction.Of(2)) + Fraction.Of(0.000000001m), because);
                tight += gap > Fraction.Of(division) / Fraction.Of(4) ? 1 : 0;
            }
            else
            {
                hidden++;
                Assert.True(exact < Fraction.Of(division) / Fraction.Of(2), because);
                Assert.Contains(plan.Notices, notice => notice.Code == BenchNoticeCodes.BelowStep);
                Assert.Equal(0, plan.Additions[0].AchievedGramsPerLiter);
            }
        }

        Assert.True(shown > 350 && hidden > 10 && tight > 50, $"seed {seed}: {shown} shown, {hidden} hidden, {tight} moved by more than a quarter");
    }

    [Fact]
    public void ThreeQuartersFirst_AndTheRestMakesTheWhole()
    {
        var addition = Assert.Single(Plan(new AdditiveDose(TrialAdditive.Tartaric, 0.8)).Additions);
        Assert.Equal(15.2067, addition.Product.Exact, 0.001);
        Assert.Equal(15.21m, addition.Product.Shown);
        Assert.Equal(11.41m, addition.FirstGrams);
        Assert.Equal(3.80m, addition.RestGrams);
        Assert.Equal(0.8002, addition.AchievedGramsPerLiter, 0.0001);
        Assert.Equal("fine", addition.ScaleName);
    }

    // 0.2 L of 19 L is 1.05 %, 0.0082 g of 15.21 g is 0.05 %: the volume decides.
    [Fact]
    public void Error_ComesFromScaleAndVolume()
    {
        var addition = Assert.Single(Plan(new AdditiveDose(TrialAdditive.Tartaric, 0.8)).Additions);
        Assert.Equal(0.8002 * Math.Sqrt(Math.Pow(0.2 / 19, 2) + Math.Pow(0.0082 / 15.21, 2)), addition.ErrorGramsPerLiter, 1e-5);
    }

    [Fact]
    public void TooSmallToPart_IsGivenAtOnce()
    {
        var plan = Plan([new("kitchen", 5000, 1)], new AdditiveDose(TrialAdditive.Tannin, 0.05));
        var addition = Assert.Single(plan.Additions);
        Assert.Equal(1m, addition.Product.Shown);
        Assert.Null(addition.FirstGrams);
        Assert.Null(addition.RestGrams);
        Assert.Contains(plan.Steps, step => step.Code == WorkStepCodes.AllAtOnce);
        var warning = Assert.Single(plan.Notices, notice => notice.Code == BenchNoticeCodes.BelowSmallestWeighable);
        Assert.Equal(82, warning.Values.Single(value => value.Name == "error").Number, 1e-9);
    }

    [Fact]
    public void MoreThanAScaleCarries_IsWeighedInParts()
    {
        var plan = Plan([BenchScenario.Fine], new AdditiveDose(TrialAdditive.Sucrose, 30));
        var addition = Assert.Single(plan.Additions);
        Assert.Equal(6, addition.Weighings);
        Assert.Equal(580.80m, addition.Product.Shown);
        Assert.Contains(plan.Notices, notice => notice.Code == BenchNoticeCodes.OverCapacity);
        Assert.Equal(19.36, plan.VolumeAfterLiters, 0.001);
    }

    [Fact]
    public void LiquidAcid_IsShownAsVolumeToo()
    {
        var addition = Assert.Single(Plan(new AdditiveDose(TrialAdditive.Lactic, 1)).Additions);
        Assert.Equal(19 / (1 - (1 / 1.19 / 0.88 / 1000)) / 0.88, addition.Product.Exact, 1e-9);
        Assert.Equal(addition.Product.Taken / 1.19, addition.ProductMilliliters!.Value, 1e-9);
    }

    // All three finish in the same volume: each dose must come out though the others thin it.
    [Fact]
    public void SeveralAdditives_ReachTheirDosesTogetherInTheRightOrder()
    {
        var plan = Plan(new AdditiveDose(TrialAdditive.Sucrose, 20), new(TrialAdditive.Tartaric, 0.8), new(TrialAdditive.Tannin, 0.1));
        Assert.Equal(["tannin", "tartaric-acid", "sucrose"], plan.Additions.Select(addition => addition.Additive.Code));
        Assert.All(plan.Additions, addition => Assert.Equal(addition.ChosenGramsPerLiter, addition.AchievedGramsPerLiter, addition.ChosenGramsPerLiter * 0.005));
        Assert.Equal(plan.VolumeAfterLiters, 19 + plan.Additions.Sum(addition => addition.Product.Taken * addition.Additive.MillilitersPerGram / 1000), 1e-9);

        string[] order =
        [
            WorkStepCodes.MeasureVolume, WorkStepCodes.KeepWinner, WorkStepCodes.Degas, WorkStepCodes.TanninFirst, WorkStepCodes.WaitForTannin,
            WorkStepCodes.UpToBottling, WorkStepCodes.StabilizeFirst, WorkStepCodes.CheckGravity, WorkStepCodes.CheckAcidity, WorkStepCodes.SulfiteAgain,
            WorkStepCodes.CompareWithKept, WorkStepCodes.WatchAfterSweetening,
        ];
        var codes = plan.Steps.Select(step => step.Code).ToList();
        var places = order.Select(code => codes.IndexOf(code)).ToList();
        Assert.All(places, place => Assert.True(place >= 0));
        Assert.Equal(places.Order(), places);
        Assert.All(codes, code => Assert.Contains(code, WorkStepCodes.All));
        Assert.Equal(Caution.Foam, plan.Steps.Single(step => step.Code == WorkStepCodes.Degas).Caution);
        Assert.Equal(Caution.BottlePressure, plan.Steps.Single(step => step.Code == WorkStepCodes.StabilizeFirst).Caution);
        Assert.Equal(Caution.Sulfite, plan.Steps.Single(step => step.Code == WorkStepCodes.SulfiteAgain).Caution);
        Assert.Equal(plan.VolumeAfterLiters, plan.WineAfter.VolumeLiters);
        Assert.Equal(plan.Expected.SpecificGravity!.Value.Value.Value, plan.WineAfter.SpecificGravity);
        Assert.Equal(0.1, plan.WineAfter.TanninGramsPerLiter, 0.001);
        Assert.Contains(plan.Notices, notice => notice is { Code: BenchNoticeCodes.StabilizeBeforeSugar, Weight: NoticeWeight.Warning });
    }

    [Fact]
    public void StabilizedWine_IsNotToldToStabilize()
    {
        var request = new ScaleUpRequest(BenchScenario.Wine, [new(TrialAdditive.Sucrose, 20)], [BenchScenario.Kitchen], IsStabilized: true);
        var plan = ScaleUp.Plan(request).Plan!;
        Assert.DoesNotContain(plan.Steps, step => step.Code == WorkStepCodes.StabilizeFirst);
        Assert.DoesNotContain(plan.Notices, notice => notice.Code == BenchNoticeCodes.StabilizeBeforeSugar);
        Assert.DoesNotContain(plan.Steps, step => step.Code == WorkStepCodes.SulfiteAgain);
        Assert.Contains(plan.Steps, step => step.Code == WorkStepCodes.WatchAfterSweetening);
        Assert.DoesNotContain(
            ScaleUp.Plan(request with { Doses = [new(TrialAdditive.UnfermentableSweetener, 20)], IsStabilized = null }).Plan!.Steps,
            step => step.Code is WorkStepCodes.StabilizeFirst or WorkStepCodes.WatchAfterSweetening);
    }

    [Fact]
    public void WinningGlass_LeadsToTheSameLiterInTheBatch()
    {
        var trial = BenchScenario.Planned(BenchScenario.Ladder(TrialAdditive.Sucrose, 5, 10, 15, 20));
        var glass = trial.Current.Glasses[3];
        var plan = ScaleUp.Plan(new(trial.Request.Wine, trial.DosesOf(glass), trial.Request.Equipment.Scales)).Plan!;
        Assert.Equal(trial.Predict(glass).SpecificGravity!.Value.Value.Value, plan.Expected.SpecificGravity!.Value.Value.Value, 1e-5);
        Assert.Equal(glass.AchievedGramsPerLiter[0], plan.Additions[0].AchievedGramsPerLiter, 0.03);
    }

    // OIV MA-C1-01: citric acid 1 g/L. Tannin that is there already counts: 0.7 + 0.2 g/L is above 0.8 (27 CFR 24.246, from memory).
    [Fact]
    public void DoseBeyondTheAbsoluteLimit_GetsNoAmount()
    {
        var request = new ScaleUpRequest(BenchScenario.Wine, [new(TrialAdditive.Citric, 1.2)], [BenchScenario.Fine]);
        var scaled = ScaleUp.Plan(request);
        Assert.Null(scaled.Plan);
        Assert.Empty(scaled.Faults);
        var refusal = Assert.Single(scaled.Refusals);
        Assert.Equal((BenchNoticeCodes.BeyondLimit, 1000), (refusal.Code, refusal.Values.Single(value => value.Name == "limit").Number));
        Assert.Contains("1 g/L", refusal.Sentence, StringComparison.Ordinal);

        var tannin = request with { Doses = [new(TrialAdditive.Tannin, 0.2)] };
        Assert.NotNull(ScaleUp.Plan(tannin).Plan);
        Assert.Null(ScaleUp.Plan(tannin with { Wine = tannin.Wine with { TanninGramsPerLiter = 0.7 } }).Plan);
    }

    [Fact]
    public void DoseBeyondTheRecommended_IsWarnedOf()
    {
        var plan = ScaleUp.Plan(new(BenchScenario.Wine, [new(TrialAdditive.Citric, 0.7)], [BenchScenario.Fine])).Plan!;
        Assert.Contains(plan.Notices, notice => notice is { Code: BenchNoticeCodes.BeyondRecommended, Weight: NoticeWeight.Warning, Sentence.Length: > 20 });
        Assert.DoesNotContain(Plan(new AdditiveDose(TrialAdditive.Citric, 0.4)).Notices, notice => notice.Code == BenchNoticeCodes.BeyondRecommended);
        Assert.DoesNotContain(Plan(new AdditiveDose(TrialAdditive.Sucrose, 100)).Notices, notice => notice.Code == BenchNoticeCodes.BeyondRecommended);
    }

    [Fact]
    public void TrialBeyondTheAbsoluteLimit_IsNotPlanned()
    {
        var planned = TrialPlanning.Plan(BenchScenario.Ladder(TrialAdditive.Citric, 0.5, 1, 1.5));
        Assert.Null(planned.Trial);
        Assert.Contains(planned.Notices, notice => notice is { Code: BenchNoticeCodes.BeyondLimit, Weight: NoticeWeight.Refusal });
    }

    [Fact]
    public void EveryFault_NamesItsField()
    {
        var good = new ScaleUpRequest(BenchScenario.Wine, [new(TrialAdditive.Sucrose, 20)], [BenchScenario.Kitchen]);
        (string Field, ScaleUpRequest Request)[] bad =
        [
            ("volume", good with { Wine = good.Wine with { VolumeLiters = 0.1 } }),
            ("doses", good with { Doses = [] }),
            ("doses", good with { Doses = [good.Doses[0], good.Doses[0]] }),
            ("sucrose-dose", good with { Doses = [new(TrialAdditive.Sucrose, 0)] }),
            ("scales", good with { Scales = [] }),
            ("tolerance", good with { Tolerance = 2 }),
            ("doses", good with { Doses = [new(TrialAdditive.Honey, 300), new(TrialAdditive.Dextrose, 300), new(TrialAdditive.Sucrose, 300)] }),
        ];
        Assert.All(bad, one =>
        {
            var scaled = ScaleUp.Plan(one.Request);
            Assert.Null(scaled.Plan);
            Assert.Contains(scaled.Faults, fault => fault.Field == one.Field);
        });
    }

    private static ScaleUpPlan Plan(params AdditiveDose[] doses) => Plan([BenchScenario.Fine, BenchScenario.Kitchen], doses);

    private static ScaleUpPlan Plan(WeighingScale[] scales, params AdditiveDose[] doses) =>
        ScaleUp.Plan(new(BenchScenario.Wine, [.. doses], [.. scales])).Plan!;

    private static decimal Decimal(Random random, double low, double high) => Math.Round((decimal)(low + ((high - low) * random.NextDouble())), 4) + 0.0001m;

    /// <summary>An exact fraction of whole numbers.</summary>
    private readonly record struct Fraction(BigInteger Above, BigInteger Below)
    {
        public static Fraction Of(decimal value)
        {
            var bits = decimal.GetBits(value);
            var above = new BigInteger((uint)bits[0]) + (new BigInteger((uint)bits[1]) << 32) + (new BigInteger((uint)bits[2]) << 64);
            return new(value < 0 ? -above : above, BigInteger.Pow(10, (bits[3] >> 16) & 0xFF));
        }

        public static Fraction operator *(Fraction a, Fraction b) => new(a.Above * b.Above, a.Below * b.Below);

        public static Fraction operator /(Fraction a, Fraction b) => new(a.Above * b.Below, a.Below * b.Above);

        public static Fraction operator +(Fraction a, Fraction b) => new((a.Above * b.Below) + (b.Above * a.Below), a.Below * b.Below);

        public static Fraction operator -(Fraction a, Fraction b) => a + new Fraction(-b.Above, b.Below);

        public static bool operator <(Fraction a, Fraction b) => a.Above * b.Below < b.Above * a.Below;

        public static bool operator >(Fraction a, Fraction b) => b < a;

        public static bool operator <=(Fraction a, Fraction b) => !(b < a);

        public static bool operator >=(Fraction a, Fraction b) => !(a < b);

        public Fraction Magnitude() => new(BigInteger.Abs(Above), BigInteger.Abs(Below));

        public double ToDouble() => (double)(Above * BigInteger.Pow(10, 25) / Below) / 1e25;
    }
}
