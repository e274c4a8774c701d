namespace FermentWatch.Service.Backtest;

/// <summary>What was said about one ferment at all of its cuts, against the truth.</summary>
internal sealed class DecisionJudgment
{
    private const double AlarmLookBackHours = 12;
    private const double GraceHours = 36;
    private const double EarliestReadyHours = 96;
    private const double LeastStuckHours = 48;
    private const double LeastFinishedHours = 5 * 24;

    /// <summary>Family of the ferment.</summary>
    public required string Family { get; init; }

    /// <summary>Cuts with a prediction.</summary>
    public int Cuts { get; private set; }

    /// <summary>Cuts without one.</summary>
    public int Missing { get; private set; }

    /// <summary>Right states; a lag counts as active.</summary>
    public int RightStates { get; private set; }

    /// <summary>The same with slowing counted as active.</summary>
    public int RightMergedStates { get; private set; }

    /// <summary>Ready while it will still fall, or while it will end stuck.</summary>
    public int FalseReadyCuts { get; private set; }

    /// <summary>Runs of consecutive false 'stuck'.</summary>
    public int FalseAlarms { get; private set; }

    /// <summary>Temperature alarms that were due and came.</summary>
    public int TrueAlarms { get; private set; }

    /// <summary>Temperature alarms that were not due.</summary>
    public int NeedlessAlarms { get; private set; }

    /// <summary>Temperature alarms that were due and did not come.</summary>
    public int MissedAlarms { get; private set; }

    /// <summary>Whether it was stuck for long enough to count.</summary>
    public bool CountsAsStuck { get; private set; }

    /// <summary>Days from getting stuck to saying so; null when it was not said in time.</summary>
    public double? StuckDelayDays { get; private set; }

    /// <summary>Whether it was finished for long enough to count.</summary>
    public bool CountsAsFinished { get; private set; }

    /// <summary>Days from the true finish to the first right 'ready'; null for never.</summary>
    public double? ReadyDelayDays { get; private set; }

    /// <summary>Judges one ferment.</summary>
    public static DecisionJudgment Of(FermentTruth truth, IReadOnlyDictionary<int, Prediction> told)
    {
        var judged = new DecisionJudgment { Family = truth.Family };
        double? firstReady = null;
        double? firstAlarm = null;
        var wasFalse = false;
        foreach (var cut in truth.Cuts)
        {
            if (!told.TryGetValue(cut.Number, out var said))
            {
                judged.Missing++;
                continue;
            }

            judged.CountState(cut, said);
            if (said.Ready)
            {
                if (cut.Remaining > 0.002 || cut.EndsStuck)
                {
                    judged.FalseReadyCuts++;
                }
                else if (truth.TrueFinishHours is { } finish && cut.Hours >= finish - EarliestReadyHours)
                {
                    firstReady ??= cut.Hours;
                }
            }

            var isFalse = said.State == "stuck" && !cut.EndsStuck && !IsGrace(truth, cut.Hours);
            if (said.State == "stuck" && cut.EndsStuck && (cut.State == "stuck" || cut.RatePerDay < 0.0015))
            {
                firstAlarm ??= cut.Hours;
            }

            judged.FalseAlarms += isFalse && !wasFalse ? 1 : 0;
            wasFalse = isFalse;
            judged.CountTemperature(truth, cut.Hours, said.TemperatureAlarm);
        }

        judged.Close(truth, firstAlarm, firstReady);
        return judged;
    }

    private static bool IsGrace(FermentTruth truth, double hours) =>
        truth.StuckEndHours is { } end && hours <= end + GraceHours && hours >= (truth.StuckAtHours ?? 0);

    private void CountState(TruthCut cut, Prediction said)
    {
        static string Started(string state) => state == "lag" ? "active" : state;
        static string Moving(string state) => state == "slowing" ? "active" : state;
        var (right, given) = (Started(cut.State), Started(said.State));
        Cuts++;
        RightStates += right == given ? 1 : 0;
        RightMergedStates += Moving(right) == Moving(given) ? 1 : 0;
    }

    private void CountTemperature(FermentTruth truth, double hours, bool said)
    {
        var isDue = truth.Excursions.Any(spell => spell.From <= hours && spell.To >= hours - AlarmLookBackHours);
        TrueAlarms += isDue && said ? 1 : 0;
        NeedlessAlarms += said && !isDue ? 1 : 0;
        MissedAlarms += isDue && !said ? 1 : 0;
    }

    private void Close(FermentTruth truth, double? firstAlarm, double? firstReady)
    {
        if (truth.StuckAtHours is { } stuck)
        {
            var until = truth.StuckEndHours ?? 1e9;
            CountsAsStuck = Math.Min(until, truth.EndHours) - stuck >= LeastStuckHours;
            if (CountsAsStuck && firstAlarm is { } alarm && alarm <= Math.Min(until + AlarmLookBackHours, truth.EndHours))
            {
                StuckDelayDays = Math.Max(alarm - stuck, 0) / 24;
            }
        }

        CountsAsFinished = truth.TrueFinishHours is { } finish && truth.EndHours - finish >= LeastFinishedHours;
        ReadyDelayDays = CountsAsFinished && firstReady is { } ready ? (ready - truth.TrueFinishHours!.Value) / 24 : null;
    }
}
