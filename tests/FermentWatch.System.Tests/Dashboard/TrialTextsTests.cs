using FermentWatch.Infrastructure.Storage;
using FermentWatch.Oenology.Acidity;
using FermentWatch.Oenology.BenchTrials;
using FermentWatch.Oenology.Tasting;
using FermentWatch.Oenology.Worksheets;
using FermentWatch.Service.Dashboard.Trials;
using FermentWatch.Service.Dashboard.Words;
using FermentWatch.System.Tests.Storage;
using Xunit;

namespace FermentWatch.System.Tests.Dashboard;

/// <summary>Every notice, step, additive, state and answer of a trial has its words.</summary>
public sealed class TrialTextsTests
{
    private static readonly Reader Reader = new(TimeZoneInfo.Utc);

    [Fact]
    public void EveryCodeOfTheLibrary_HasASentence()
    {
        Assert.All(BenchNoticeCodes.All, code => Assert.True(TrialText.Has("notice-" + code), code));
        Assert.All(WorkStepCodes.All, code => Assert.True(TrialText.Has("work-" + code), code));
        Assert.All(TrialAdditive.All, additive => Assert.True(TrialText.Has("additive-" + additive.Code), additive.Code));
        Assert.All(Enum.GetNames<AdditiveRole>(), role => Assert.True(TrialText.Has("question-" + role), role));
        Assert.All(Enum.GetNames<TrialState>(), state => Assert.True(TrialText.Has("state-" + state), state));
        Assert.All(Enum.GetNames<AcidProfile>(), profile => Assert.True(TrialText.Has("acids-" + profile), profile));
        Assert.All(Enum.GetNames<NextStep>(), step => Assert.True(TrialText.Has("claim-" + step), step));
        Assert.All(Enum.GetNames<TastingVerdict>(), verdict => Assert.True(TrialText.Has("rank-" + verdict), verdict));
        Assert.All(Enum.GetNames<SurfaceVerdict>(), verdict => Assert.True(TrialText.Has("surface-" + verdict), verdict));
    }

    [Fact]
    public void NoticesOfEveryPlanAndEveryAdditive_AreWholeSentences()
    {
        var seen = new HashSet<string>(StringComparer.Ordinal);
        foreach (var additive in TrialAdditive.All)
        {
            foreach (var (kind, scale) in (from kind in Enum.GetValues<TrialPlanKind>() from scale in (double[])[0.01, 1, 5] select (kind, scale)))
            {
                var usual = TrialSamples.Sugar().Request;
                var planned = TrialPlanning.Plan(usual with
                {
                    Kind = kind,
                    Equipment = new TrialEquipment([new WeighingScale("one", 500, scale)], usual.Equipment.Syringe),
                    Factors = kind is TrialPlanKind.Grid ? [TrialFactor.Usual(additive, 2), TrialFactor.Usual(additive.Code == "honey" ? TrialAdditive.Tannin : TrialAdditive.Honey, 2)] : [TrialFactor.Usual(additive)],
                    StartsOn = new DateOnly(2026, 11, 1),
                });
                Assert.Empty(planned.Faults);
                foreach (var sentence in planned.Notices.Select(notice => (notice.Code, Text: TrialWords.Sentence(notice, Reader))))
                {
                    seen.Add(sentence.Code);
                    Assert.DoesNotContain("{", sentence.Text, StringComparison.Ordinal);
                    Assert.EndsWith(".", sentence.Text.Trim(), StringComparison.Ordinal);
                    Assert.DoesNotContain("  ", sentence.Text, StringComparison.Ordinal);
                }
            }
        }

        Assert.True(seen.Count >= 15, string.Join(", ", seen));
        Assert.Contains(BenchNoticeCodes.StepNotMeasurable, seen);
    }

    [Fact]
    public void ThresholdWithOneFigure_IsNoRange()
    {
        NoticeValue[] Ends(double low, double high) => [new("lowest", low, "g/L"), new("highest", high, "g/L")];
        Assert.Contains("4.69\u00a0g/L is one that was published", TrialWords.Sentence(new BenchNotice(BenchNoticeCodes.ThresholdsVary, NoticeWeight.Note, [.. Ends(4.69, 4.69)]), Reader), StringComparison.Ordinal);
        Assert.Contains("(4\u00a0g/L to 9\u00a0g/L)", TrialWords.Sentence(new BenchNotice(BenchNoticeCodes.ThresholdsVary, NoticeWeight.Note, [.. Ends(4, 9)]), Reader), StringComparison.Ordinal);
    }

    [Fact]
    public void StepsOfTheWork_AreWholeSentences()
    {
        var wine = TrialSamples.Sugar().Request.Wine;
        var scaled = ScaleUp.Plan(new ScaleUpRequest(
            wine, [new(TrialAdditive.Sucrose, 16), new(TrialAdditive.Tartaric, 0.5), new(TrialAdditive.Tannin, 0.05)], [new WeighingScale("one", 500, 0.01)]));
        Assert.NotNull(scaled.Plan);
        Assert.Equal(
            WorkStepCodes.All.Where(code => code != WorkStepCodes.AllAtOnce).Order(StringComparer.Ordinal),
            scaled.Plan.Steps.Select(step => step.Code).Distinct().Order(StringComparer.Ordinal));
        Assert.All(scaled.Plan.Steps, step => Assert.EndsWith(".", TrialWords.Sentence(step, Reader), StringComparison.Ordinal));
        Assert.All(scaled.Plan.Steps, step => Assert.DoesNotContain("{", TrialWords.Sentence(step, Reader), StringComparison.Ordinal));
        Assert.Contains(scaled.Plan.Steps, step => TrialWords.Sentence(step, Reader).Contains("above 40 °C", StringComparison.Ordinal) || TrialWords.Sentence(step, Reader).Contains("above 40\u00a0°C", StringComparison.Ordinal));
        Assert.All(scaled.Plan.Notices, notice => Assert.EndsWith(".", TrialWords.Sentence(notice, Reader), StringComparison.Ordinal));
        Assert.Equal(NoticeWeight.Warning, scaled.Plan.Notices.First(notice => notice.Code == BenchNoticeCodes.StabilizeBeforeSugar).Weight);
    }
}
