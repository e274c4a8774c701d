using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Batches.Cleaning;

/// <summary>Gravity measured by hand, as the journal has it.</summary>
internal sealed class HandReadings
{
    /// <summary>A reading this far from both neighbors, which agree, is a slip of the pen. [points] Common practice, no source.</summary>
    private const double Slip = 30;

    private HandReadings(List<GravitySample> kept, List<GravitySample> before, List<SetAsidePoint> setAside, int stored)
    {
        Kept = kept;
        BeforeInoculation = before;
        SetAside = setAside;
        Stored = stored;
    }

    /// <summary>Those that can be part of the curve, in time order.</summary>
    public List<GravitySample> Kept { get; }

    /// <summary>Those taken from the must.</summary>
    public List<GravitySample> BeforeInoculation { get; }

    public List<SetAsidePoint> SetAside { get; }

    public int Stored { get; }

    public static HandReadings From(IReadOnlyList<JournalEntry> journal, EventTime inoculatedAt)
    {
        var all = new List<GravitySample>();
        foreach (var entry in journal)
        {
            if (entry is { Kind: JournalKind.MeasuredByHand, Gravity: { } gravity })
            {
                all.Add(new GravitySample(entry.At, gravity.Points, new ReceivedAt(entry.At.UnixMicroseconds)));
            }
        }

        var kept = new List<GravitySample>();
        var before = new List<GravitySample>();
        var setAside = new List<SetAsidePoint>();
        for (var i = 0; i < all.Count; i++)
        {
            var reading = all[i];
            if (reading.Points is < RubbishFilter.LowestPossible or > RubbishFilter.HighestPossible)
            {
                setAside.Add(Aside(reading, Reason.Of(ReasonCodes.SetAsideImpossible, new ReasonValue.Gravity(1 + (reading.Points / 1000)))));
            }
            else if (reading.At < inoculatedAt)
            {
                before.Add(reading);
                setAside.Add(Aside(reading, Reason.Of(ReasonCodes.SetAsideBeforeInoculation, new ReasonValue.Moment(inoculatedAt))));
            }
            else if (SlipSize(all, i) is { } size)
            {
                setAside.Add(Aside(reading, Reason.Of(ReasonCodes.SetAsideSpike, new ReasonValue.Gravity(size / 1000, IsDifference: true))));
            }
            else
            {
                kept.Add(reading);
            }
        }

        return new HandReadings(kept, before, setAside, all.Count);
    }

    /// <summary>Rises between hand readings that sugar explains, by the journal or by their size.</summary>
    public List<SugarRise> Rises(IReadOnlyList<JournalEntry> journal)
    {
        var rises = new List<SugarRise>();
        for (var i = 1; i < Kept.Count; i++)
        {
            var rise = Kept[i].Points - Kept[i - 1].Points;
            EventTime? told = null;
            foreach (var entry in journal)
            {
                if (entry.Kind == JournalKind.SugarAdded && entry.At > Kept[i - 1].At && entry.At <= Kept[i].At)
                {
                    told = entry.At;
                }
            }

            if (rise >= ExcursionFinder.SugarRise || (rise > 0 && told is not null))
            {
                rises.Add(new SugarRise(told ?? Kept[i].At, rise));
            }
        }

        return rises;
    }

    private static double? SlipSize(List<GravitySample> all, int index)
    {
        if (index == 0 || index + 1 >= all.Count)
        {
            return null;
        }

        var (before, here, after) = (all[index - 1].Points, all[index].Points, all[index + 1].Points);
        var isAlone = here > Math.Max(before, after) + Slip || here < Math.Min(before, after) - Slip;
        return isAlone && Math.Abs(before - after) < Slip ? here - ((before + after) / 2) : null;
    }

    private static SetAsidePoint Aside(GravitySample reading, Reason because) =>
        new(reading.At, GravityBins.ToGravity(reading.Points), because);
}
