using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Service.Dashboard.Pictures;

namespace FermentWatch.Service.Dashboard.Words;

/// <summary>Which kind of sentence opens a batch.</summary>
public enum Outlook
{
    /// <summary>No gravity was ever read.</summary>
    NoReadings = 0,

    /// <summary>Gravity was read, but is not heard now.</summary>
    Silent = 1,

    /// <summary>The readings do not determine the end yet.</summary>
    NotYet = 2,

    /// <summary>A day of ending with its odds.</summary>
    Expected = 3,

    /// <summary>No fall that the readings can show.</summary>
    Flat = 4,

    /// <summary>The curve says that the end lies behind, though the phase is not flat.</summary>
    AtEnd = 6,

    /// <summary>It moves, and where it ends can be told, but no day is in sight.</summary>
    NoDayInSight = 5,
}

/// <summary>Chooses the opening sentence of a batch.</summary>
internal static class Outlooks
{
    /// <summary>The kind of sentence at the moment the snapshot was computed.</summary>
    public static Outlook Of(BoardEntry entry, DateTimeOffset computedAt)
    {
        var view = entry.View;
        if (view.Gravity.Count == 0)
        {
            return Outlook.NoReadings;
        }

        if (Hearing.Of(view, computedAt).GravityLate)
        {
            return Outlook.Silent;
        }

        if (view.Phase.Phase == Phase.Flat)
        {
            return Outlook.Flat;
        }

        if (view.Forecast is not { NotYet: null } forecast)
        {
            return Outlook.NotYet;
        }

        if (forecast.Finish.P50 is { } middle && middle <= view.Now)
        {
            return Outlook.AtEnd;
        }

        return forecast.Finish.P50 is null || CurveWindow.FuturesOf(view).Count == 0 ? Outlook.NoDayInSight : Outlook.Expected;
    }
}
