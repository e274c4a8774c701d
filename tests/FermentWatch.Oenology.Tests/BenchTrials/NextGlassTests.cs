using FermentWatch.Oenology.BenchTrials;
using FermentWatch.Oenology.Tasting;

namespace FermentWatch.Oenology.Tests.BenchTrials;

public sealed class NextGlassTests
{
    [Theory]
    [InlineData("0:3/0/0 5:3/0/0 20:0/0/3", NextStep.TryDose, 12.0)]
    [InlineData("0:3/0/0 5:3/0/0 10:2/1/0", NextStep.TryDose, 19.5)]
    [InlineData("0:3/0/0 5:0/2/1", NextStep.TakeDose, 5.0)]
    [InlineData("0:0/3/0 5:0/0/3", NextStep.TakeDose, 0.0)]
    [InlineData("0:0/1/2 5:0/0/3", NextStep.OtherDirection, null)]
    [InlineData("0:3/0/0 10:2/1/0 13:0/1/2", NextStep.StopAtThreshold, 10.0)]
    [InlineData("0:3/0/0 10:0/1/2 15:3/0/0", NextStep.TasteAgain, 12.5)]
    [InlineData("0:3/0/0 40:3/0/0", NextStep.LargestTooLittle, 40.0)]
    [InlineData("0:1/1/1 5:1/1/1", NextStep.StopAtThreshold, 0.0)]
    public void Answers_NameTheNextGlass(string said, NextStep step, double? dose)
    {
        var proposal = NextGlass.From(
            [
                .. said.Split(' ').Select(text => text.Split(':', '/')).Select(parts => new DoseAnswers(
                    double.Parse(parts[0], System.Globalization.CultureInfo.InvariantCulture),
                    int.Parse(parts[1], System.Globalization.CultureInfo.InvariantCulture),
                    int.Parse(parts[2], System.Globalization.CultureInfo.InvariantCulture),
                    int.Parse(parts[3], System.Globalization.CultureInfo.InvariantCulture))),
            ],
            3,
            40);
        Assert.Equal(step, proposal.Step);
        Assert.Equal(dose, proposal.GramsPerLiter);
    }

    // A panel whose ideal is known and that never says 'right' is led to within one threshold step in a handful of glasses.
    [Theory]
    [InlineData(4.2)]
    [InlineData(11)]
    [InlineData(23.7)]
    [InlineData(37)]
    public void Halving_LeadsToTheIdealAndStopsAtTheThresholdStep(double ideal)
    {
        var trial = BenchScenario.Planned(BenchTrialTests.Request(TrialPlanKind.BracketThenHalve) with
        {
            Factors = [new TrialFactor(TrialAdditive.Sucrose, [5, 20], 3, 40)],
        });
        NextGlassProposal proposal;
        var flights = 0;
        do
        {
            foreach (var glass in trial.Current.Glasses)
            {
                foreach (var taster in trial.Request.Tasters)
                {
                    trial = trial.WithScore(new GlassScore(taster, glass.Code, Sweet: glass.DosesGramsPerLiter[0] < ideal ? JustAboutRight.TooLittle : JustAboutRight.TooMuch));
                }
            }

            proposal = NextGlass.Propose(trial);
            if (proposal.Step is NextStep.TryDose)
            {
                trial = TrialPlanning.AddFlight(trial, [proposal.GramsPerLiter!.Value]).Trial!;
            }

            Assert.True(++flights < 10, $"{proposal}");
        }
        while (proposal.Step is NextStep.TryDose);

        Assert.Equal(NextStep.StopAtThreshold, proposal.Step);
        Assert.InRange(proposal.GramsPerLiter!.Value, ideal - 3.001, ideal + 3.001);
        Assert.Equal(trial.Flights.SelectMany(flight => flight.Glasses).Count(), trial.Flights.SelectMany(flight => flight.Glasses).Select(glass => glass.Code).Distinct().Count());
    }

    [Fact]
    public void WhatTakesAcidAway_TurnsTheQuestionRound()
    {
        var trial = BenchScenario.Planned(BenchScenario.Ladder(TrialAdditive.PotassiumBicarbonate, 0.5, 1));
        foreach (var glass in trial.Current.Glasses)
        {
            trial = trial.WithScore(new("Ada", glass.Code, Acid: JustAboutRight.TooMuch));
        }

        var proposal = NextGlass.Propose(trial);
        Assert.Equal(1, proposal.Low);
        Assert.Null(proposal.High);
        Assert.All(proposal.Answers, answer => Assert.Equal(0, answer.TooMuch));
    }

    [Fact]
    public void NoAnswers_AskFirst() =>
        Assert.Equal(NextStep.AskFirst, NextGlass.Propose(BenchScenario.Planned(BenchScenario.Ladder(TrialAdditive.Sucrose, 5, 10))).Step);

    [Fact]
    public void FlightBeyondTheLargestDose_IsRefused()
    {
        var trial = BenchScenario.Planned(BenchTrialTests.Request(TrialPlanKind.BracketThenHalve));
        Assert.Throws<ArgumentException>(() => TrialPlanning.AddFlight(trial, [31]));
        Assert.Throws<ArgumentException>(() => TrialPlanning.AddFlight(trial, []));
        Assert.Throws<ArgumentException>(() => TrialPlanning.AddFlight(trial, [10, 5]));
        Assert.Equal(2, TrialPlanning.AddFlight(trial, [12]).Trial!.Flights.Length);
    }
}
