using FermentWatch.Oenology.BenchTrials;
using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Tasting;
using FermentWatch.Oenology.Worksheets;

namespace FermentWatch.Oenology.Tests.BenchTrials;

public sealed class BenchTrialTests
{
    public static TheoryData<string> Kinds => [.. Enum.GetNames<TrialPlanKind>()];

    [Fact]
    public void Ladder_HasAControlItsDosesAndAHiddenTwin()
    {
        var trial = BenchScenario.Planned(BenchScenario.Ladder(TrialAdditive.Sucrose, 5, 10, 15, 20));
        var glasses = trial.Current.Glasses;
        Assert.Equal(6, glasses.Length);
        Assert.Equal([0.0, 5, 10, 15, 20], glasses.Where(glass => glass.Role is not GlassRole.Twin).Select(glass => glass.DosesGramsPerLiter[0]));
        Assert.Equal(6, glasses.Select(glass => glass.Code).Distinct().Count());
        var twin = trial.Current.Twin!;
        Assert.Null(twin.Mix);
        Assert.Equal(trial.Current.Find(twin.SameAs!)!.AchievedGramsPerLiter, twin.AchievedGramsPerLiter);
        Assert.NotEqual(twin.SameAs, twin.Code);
    }

    // Every glass, the control too, is the same volume and got the same added volume; a mixing for twins is twice as large.
    [Fact]
    public void Glasses_AreToppedToEqualAddedLiquid()
    {
        var trial = BenchScenario.Planned(BenchScenario.Ladder(TrialAdditive.Sucrose, 5, 10, 15, 20));
        var mixed = trial.Current.Glasses.Where(glass => glass.Mix is not null).ToList();
        Assert.Equal(5, mixed.Count);
        var shares = mixed.Select(glass => (glass.Mix!.Pours[0].Milliliters + glass.Mix.Pours[0].TopUpMilliliters.Taken) / glass.Mix.TotalMilliliters).ToList();
        Assert.All(shares, share => Assert.Equal(shares[0], share, 0.0015));
        Assert.All(mixed, glass =>
        {
            var mix = glass.Mix!;
            Assert.Equal(glass.Code == trial.Current.Twin!.SameAs ? 200 : 100, mix.TotalMilliliters);
            Assert.Equal(mix.TotalMilliliters, (double)mix.WineMilliliters.Shown! + mix.Pours[0].Milliliters + mix.Pours[0].TopUpMilliliters.Taken, 0.15);
        });
    }

    [Fact]
    public void AchievedDose_IsNearThePlannedOneAndComesFromTheRoundedAmount()
    {
        var trial = BenchScenario.Planned(BenchScenario.Ladder(TrialAdditive.Tartaric, 0.5, 1, 1.5, 2));
        Assert.All(trial.Current.Glasses.Where(glass => glass.Role is GlassRole.Dose), glass =>
        {
            var (planned, achieved) = (glass.DosesGramsPerLiter[0], glass.AchievedGramsPerLiter[0]);
            var step = 1000 * 0.01 * trial.Stocks[0].ActiveMassFraction / glass.Mix!.TotalMilliliters;
            Assert.InRange(achieved - planned, -step / 2 * 1.0001, step / 2 * 1.0001);
        });
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public void StoredTrial_IsTheSameWhenReadBack(string kind)
    {
        var trial = Scored(BenchScenario.Planned(Request(Enum.Parse<TrialPlanKind>(kind))));
        var json = BenchTrialJson.Write(trial);
        var back = BenchTrialJson.Read(json);
        Assert.Equal(json, BenchTrialJson.Write(back));
        Assert.Equal(trial.Current.Scores, back.Current.Scores.AsEnumerable());
        Assert.Equal(trial.Request.Factors[0].Additive, back.Request.Factors[0].Additive);
        Assert.Equal(trial.Stocks.AsEnumerable(), back.Stocks.AsEnumerable());
        Assert.Equal(trial.Held, back.Held);
        Assert.Equal(trial.Chosen?.GramsPerLiter.AsEnumerable(), back.Chosen?.GramsPerLiter.AsEnumerable());
        Assert.Equal(kind == nameof(TrialPlanKind.FreeGlass), back.Free is not null);
    }

    [Theory]
    [InlineData("null")]
    [InlineData("{}")]
    [InlineData("[1]")]
    [InlineData("{\"Version\":1")]
    public void WhatIsNoStoredTrial_IsRefused(string json) => Assert.Throws<FormatException>(() => BenchTrialJson.Read(json));

    [Fact]
    public void NewerForm_IsRefusedByVersion()
    {
        var json = BenchTrialJson.Write(BenchScenario.Planned(Request(TrialPlanKind.Ladder)) with { Version = 99 });
        Assert.Contains("version 99", Assert.Throws<FormatException>(() => BenchTrialJson.Read(json)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Grid_HasEveryCombinationBesideTheControl()
    {
        var trial = BenchScenario.Planned(Request(TrialPlanKind.Grid));
        Assert.Equal(
            ["0 0", "10 0.5", "10 1", "20 0.5", "20 1"],
            trial.Current.Glasses.Where(glass => glass.Role is not GlassRole.Twin).Select(glass => FormattableString.Invariant($"{glass.DosesGramsPerLiter[0]} {glass.DosesGramsPerLiter[1]}")));
        Assert.Equal(2, trial.Stocks.Length);
        Assert.Equal(6, trial.Current.Glasses.Length);
        Assert.Throws<ArgumentException>(() => TrialPlanning.AddFlight(trial, [5]));
    }

    [Fact]
    public void HeldTrial_NamesItsDaysAndItsJars()
    {
        var planned = TrialPlanning.Plan(Request(TrialPlanKind.Held));
        Assert.Equal(new HeldTrial(new DateOnly(2026, 11, 8), new DateOnly(2026, 11, 15)), planned.Trial!.Held);
        Assert.Contains(planned.Notices, notice => notice is { Code: BenchNoticeCodes.HeldJars, Weight: NoticeWeight.Warning });
        Assert.DoesNotContain(planned.Notices, notice => notice.Code == BenchNoticeCodes.TanninNeedsTime);
    }

    [Fact]
    public void TanninOnTheSameDay_IsWarnedOf() =>
        Assert.Contains(TrialPlanning.Plan(BenchScenario.Ladder(TrialAdditive.Tannin, 0.05, 0.1, 0.2)).Notices, notice => notice.Code == BenchNoticeCodes.TanninNeedsTime);

    // 6 glasses x 25 mL x 12.5 % x 0.78924 g/mL = 14.8 g for each taster. Wine: 7 x 100 mL mixed less sugar's volume, the stock left over, 100 mL kept.
    [Fact]
    public void Budget_CountsAlcoholAndShareOfTheBatch()
    {
        var trial = BenchScenario.Planned(BenchScenario.Ladder(TrialAdditive.Sucrose, 5, 10, 15, 20));
        var budget = SampleBudget.Of(trial, trial.Current);
        Assert.Equal(6 * 25 * 0.125 * 0.78924, budget.EthanolGramsPerTaster!.Value, 1e-9);
        Assert.InRange(budget.WineMilliliters, 690, 830);
        Assert.Equal(budget.WineMilliliters / 19000, budget.ShareOfBatch, 1e-12);
        var notices = TrialPlanning.Plan(trial.Request).Notices;
        Assert.Contains(notices, notice => notice.Code == BenchNoticeCodes.AlcoholServed && notice.Values[0].Number == budget.EthanolGramsPerTaster);
        Assert.Contains(notices, notice => notice.Code == BenchNoticeCodes.LargeShare);
        Assert.Contains(notices, notice => notice.Code == BenchNoticeCodes.NotBlindAlone);
        Assert.Contains(notices, notice => notice.Code == BenchNoticeCodes.OrderAsBalancedAsCanBe);
        Assert.Contains(notices, notice => notice.Code == BenchNoticeCodes.StabilizeBeforeSugar);
        Assert.All(notices, notice => Assert.Contains(notice.Code, BenchNoticeCodes.All));
        Assert.Equal(Caution.AlcoholServed, notices.First(notice => notice.Code == BenchNoticeCodes.AlcoholServed).Caution);
        Assert.Equal(Caution.BottlePressure, notices.First(notice => notice.Code == BenchNoticeCodes.StabilizeBeforeSugar).Caution);
        Assert.Null(notices.First(notice => notice.Code == BenchNoticeCodes.TopUp).Caution);
        Assert.Empty(trial.ChosenDoses);
        Assert.Equal(10, Assert.Single(trial.Choose(trial.Current.Glasses[2].Code).ChosenDoses).GramsPerLiter, 0.1);
        Assert.Null(trial.PredictFree());
    }

    [Fact]
    public void LargeBatchAndKnownScale_AreSaidLessAbout()
    {
        var request = BenchScenario.Ladder(TrialAdditive.Sucrose, 5, 10, 15, 20);
        var notices = TrialPlanning.Plan(request with
        {
            Wine = request.Wine with { VolumeLiters = 60, AlcoholPercent = null },
            Equipment = request.Equipment with { Scales = [BenchScenario.Fine with { RepeatabilityGrams = 0.005 }] },
            Tasters = ["A", "B", "C", "D", "E", "F"],
            PourMilliliters = 15,
        }).Notices;
        Assert.DoesNotContain(notices, notice => notice.Code is BenchNoticeCodes.LargeShare or BenchNoticeCodes.RepeatabilityAssumed or BenchNoticeCodes.SlowTrickle
            or BenchNoticeCodes.FewTasters or BenchNoticeCodes.OrderAsBalancedAsCanBe or BenchNoticeCodes.AlcoholServed);
        Assert.Contains(notices, notice => notice.Code == BenchNoticeCodes.AlcoholUnknown);
    }

    [Fact]
    public void Tasters_GetEveryCodeOnce()
    {
        var trial = BenchScenario.Planned(BenchScenario.Ladder(TrialAdditive.Sucrose, 5, 10, 15, 20));
        for (var taster = 0; taster < 3; taster++)
        {
            Assert.Equal(trial.Current.Glasses.Select(glass => glass.Code).Order(), trial.Current.CodesFor(taster).Order());
        }
    }

    [Fact]
    public void SecondScore_TakesThePlaceOfTheFirst()
    {
        var trial = BenchScenario.Planned(BenchScenario.Ladder(TrialAdditive.Sucrose, 5, 10));
        var code = trial.Current.Glasses[1].Code;
        trial = trial.WithScore(new("Ada", code, Liking: 3)).WithScore(new("Ada", code, Liking: 7)).WithScore(new("Ben", code, Liking: 5));
        Assert.Equal([7, 5], trial.Current.Scores.Select(score => score.Liking!.Value));
        Assert.Contains("Ada, Ben, Cleo", Assert.Throws<ArgumentException>(() => trial.WithScore(new("Dan", code))).Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentException>(() => trial.WithScore(new("Ada", "000")));
        Assert.Throws<ArgumentException>(() => trial.WithScore(new("Ada", code, Liking: 10)));
        Assert.Throws<ArgumentException>(() => trial.Choose("000"));
        Assert.Throws<InvalidOperationException>(trial.ChooseFreeGlass);
        Assert.Throws<InvalidOperationException>(() => trial.WithEntry(new(FreeGlassAct.Sip, 0, 1)));
    }

    [Fact]
    public void Review_RanksByLikingAndShowsTheTwin()
    {
        var trial = BenchScenario.Planned(BenchScenario.Ladder(TrialAdditive.Sucrose, 5, 10, 15));
        foreach (var taster in trial.Request.Tasters)
        {
            foreach (var glass in trial.Current.Glasses)
            {
                trial = trial.WithScore(new(taster, glass.Code, Sweet: JustAboutRight.Right, Liking: 8 - (int)Math.Abs(glass.DosesGramsPerLiter[0] - 10) / 3));
            }
        }

        var review = TrialReview.Of(trial, 1);
        Assert.Equal(TastingVerdict.Significant, review.Ranking!.Verdict);
        Assert.Equal(4, review.RankedCodes.Length);
        Assert.Equal(trial.Current.Glasses.Single(glass => glass.Role is GlassRole.Dose && glass.DosesGramsPerLiter[0] == 10).Code, review.RankedCodes[review.Ranking.RankSums.IndexOf(review.Ranking.RankSums.Min())]);
        Assert.Equal(3, review.Consistency.Length);
        Assert.All(review.Consistency, twin => Assert.True(twin.IsConsistent));
        Assert.Equal(0, review.NoiseOfLiking);
        Assert.Equal(5, review.Glasses.Length);
        Assert.Equal(new AnswerCounts(0, 3, 0), review.Glasses[0].Sweet);
        Assert.Equal(SurfaceVerdict.BestInside, review.Surface.Verdict);
        Assert.InRange(review.Surface.BestFirst!.Value, 8, 12);
    }

    [Fact]
    public void ReviewWithoutScores_SaysNothing()
    {
        var review = TrialReview.Of(BenchScenario.Planned(BenchScenario.Ladder(TrialAdditive.Sucrose, 5, 10, 15)), 1);
        Assert.Null(review.Ranking);
        Assert.Empty(review.Consistency);
        Assert.Null(review.NoiseOfLiking);
        Assert.All(review.Glasses, glass => Assert.Null(glass.MeanLiking));
        Assert.Equal(SurfaceVerdict.NotEnoughGlasses, review.Surface.Verdict);
    }

    [Fact]
    public void EveryFault_NamesItsFieldAndItsValue()
    {
        var good = BenchScenario.Ladder(TrialAdditive.Sucrose, 5, 10);
        (string Field, TrialRequest Request)[] bad =
        [
            ("volume", good with { Wine = good.Wine with { VolumeLiters = 0 } }),
            ("ph", good with { Wine = good.Wine with { Ph = 7 } }),
            ("gravity", good with { Wine = good.Wine with { SpecificGravity = double.NaN } }),
            ("scales", good with { Equipment = good.Equipment with { Scales = [] } }),
            ("scale-division", good with { Equipment = good.Equipment with { Scales = [new("x", 100, 0)] } }),
            ("tolerance", good with { Equipment = good.Equipment with { Tolerance = 0 } }),
            ("factors", good with { Factors = [] }),
            ("factors", good with { Kind = TrialPlanKind.Grid }),
            ("sucrose-doses", good with { Factors = [good.Factors[0] with { DosesGramsPerLiter = [10, 5] }] }),
            ("sucrose-doses", good with { Factors = [good.Factors[0] with { DosesGramsPerLiter = [5, 6] }] }),
            ("sucrose-dose", good with { Factors = [good.Factors[0] with { DosesGramsPerLiter = [5, 1000] }] }),
            ("glasses", BenchScenario.Ladder(TrialAdditive.Sucrose, 5, 10, 15, 20, 25)),
            ("tasters", good with { Tasters = ["Ada", "Ada"] }),
            ("glass-volume", good with { PourMilliliters = 50 }),
        ];
        Assert.All(bad, one =>
        {
            var planned = TrialPlanning.Plan(one.Request);
            Assert.Null(planned.Trial);
            var fault = Assert.Single(planned.Faults, fault => fault.Field == one.Field);
            Assert.StartsWith(one.Field, fault.Sentence, StringComparison.Ordinal);
        });
        Assert.Empty(TrialRequestCheck.Faults(good));
    }

    [Fact]
    public void OrderThatWasGiven_CountsBeforeLikings()
    {
        var trial = BenchScenario.Planned(BenchScenario.Ladder(TrialAdditive.Sucrose, 5, 10, 15));
        var codes = trial.Current.Glasses.Where(glass => glass.Role is not GlassRole.Twin).Select(glass => glass.Code).ToList();
        foreach (var taster in trial.Request.Tasters)
        {
            trial = trial.Current.Glasses.Aggregate(trial, (before, glass) => before.WithScore(new(taster, glass.Code, Liking: 5)));
        }

        Assert.Equal(1, TrialReview.Of(trial, 1).Ranking!.Probability, 9);

        foreach (var taster in trial.Request.Tasters)
        {
            trial = trial.WithRanking(new(taster, [.. trial.Current.Glasses.Select(glass => glass.Code)]));
        }

        // Three people agree on four glasses: F = 9, (4!)^-2 = 0.00174 [Friedman1937].
        var ranking = TrialReview.Of(trial, 1).Ranking!;
        Assert.Equal([3, 6, 9, 12], ranking.RankSums);
        Assert.Equal(9, ranking.Statistic, 9);
        Assert.Equal(1 / 576.0, ranking.Probability, 9);
        var again = BenchTrialJson.Read(BenchTrialJson.Write(trial));
        Assert.Equal(3, again.Current.Rankings.Length);
        Assert.Throws<ArgumentException>(() => trial.WithRanking(new("Ada", [.. codes])));
        Assert.Throws<ArgumentException>(() => trial.WithRanking(new("Zoe", [.. trial.Current.Glasses.Select(glass => glass.Code)])));
    }

    internal static TrialRequest Request(TrialPlanKind kind) => kind switch
    {
        TrialPlanKind.Grid => BenchScenario.Ladder(TrialAdditive.Sucrose, 10, 20) with
        {
            Kind = kind,
            Factors = [new(TrialAdditive.Sucrose, [10, 20], 3, 40), new(TrialAdditive.Tartaric, [0.5, 1], 0.5, 2)],
        },
        TrialPlanKind.Held => BenchScenario.Ladder(TrialAdditive.Tannin, 0.05, 0.1, 0.2) with { Kind = kind, StartsOn = new DateOnly(2026, 11, 1) },
        _ => BenchScenario.Ladder(TrialAdditive.Sucrose, 5, 10, 15) with { Kind = kind },
    };

    private static BenchTrial Scored(BenchTrial trial)
    {
        var code = trial.Current.Glasses[^1].Code;
        trial = trial.WithScore(new("Ada", code, JustAboutRight.TooLittle, JustAboutRight.Right, JustAboutRight.TooMuch, null, 6, "a note, \"quoted\" – ü"));
        return trial.Free is null
            ? trial.Choose(code)
            : trial.WithEntry(new(FreeGlassAct.Addition, 0, 2.5)).WithEntry(new(FreeGlassAct.Sip, 0, 10, "better")).ChooseFreeGlass();
    }
}
