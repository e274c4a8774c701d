using System.Globalization;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Monitoring.Telemetry.Calibration;
using FermentWatch.Service.Dashboard.Forms;
using FermentWatch.Service.Dashboard.Words;

namespace FermentWatch.Service.Dashboard.Sensors;

/// <summary>Forms that take over and take back calibrations.</summary>
internal static class CalibrationForms
{
    /// <summary>Rows for points in the form.</summary>
    public const int Rows = 8;

    /// <summary>Gravity from inclination by the maker's own points.</summary>
    public static async Task<IResult> InclinationAsync(SentForm form, CancellationToken cancellationToken)
    {
        var sensor = SensorHosting.SensorOf(form.Context);
        var points = new List<CalibrationPoint>();
        for (var row = 1; row <= Rows; row++)
        {
            var (degrees, gravity) = (form[$"angle-{row}"], form[$"gravity-{row}"]);
            if (degrees.Length == 0 && gravity.Length == 0)
            {
                continue;
            }

            if (!TryNumber(degrees, 0, 90, out var angle))
            {
                return SensorHosting.Again(form, sensor, $"angle-{row}", SensorText.Of("fault-angle", row, Shown(degrees)));
            }

            if (!TryNumber(gravity, 0.9, 1.3, out var ratio))
            {
                return SensorHosting.Again(form, sensor, $"gravity-{row}", SensorText.Of("fault-gravity", row, Shown(gravity)));
            }

            points.Add(new CalibrationPoint(angle, ratio));
        }

        if (!TryFrom(form, "curve-from", out var from))
        {
            return SensorHosting.Again(form, sensor, "curve-from", SensorText.Of("fault-moment", form["curve-from"]));
        }

        var order = int.TryParse(form["order"], NumberStyles.None, CultureInfo.InvariantCulture, out var number) ? number : 0;
        var (curve, refused) = InclinationCurve.Fit(points, order);
        if (curve is null)
        {
            return SensorHosting.Again(form, sensor, "order", ReasonWords.Sentence(refused!, form.Visit.Reader));
        }

        return SensorHosting.Done(form, sensor, await form.Service<Store>().AddCalibrationAsync(sensor, from, curve, cancellationToken));
    }

    /// <summary>An offset, or an offset and a scale, by hand readings: what was shown is taken over, or nothing is.</summary>
    public static async Task<IResult> AdjustAsync(SentForm form, CancellationToken cancellationToken)
    {
        var sensor = SensorHosting.SensorOf(form.Context);
        if (!TryFrom(form, "adjust-from", out var from))
        {
            return SensorHosting.Again(form, sensor, "adjust-from", SensorText.Of("fault-moment", form["adjust-from"]));
        }

        var pairs = SensorSheet.PairsOf(form.Service<Store>(), form.Visit, sensor);
        var (proposed, notYet) = form["kind"] == "scale" ? HandComparison.OffsetAndScale(pairs) : HandComparison.Offset(pairs);
        if (proposed is null)
        {
            return SensorHosting.Again(form, sensor, "adjust-from", ReasonWords.Sentence(notYet!, form.Visit.Reader));
        }

        return SeenOf(proposed) == form["seen"]
            ? SensorHosting.Done(form, sensor, await form.Service<Store>().AddCalibrationAsync(sensor, from, proposed, cancellationToken))
            : SensorHosting.Again(form, sensor, "adjust-from", SensorText.Of("fault-changed"));
    }

    /// <summary>Takes a calibration back.</summary>
    public static async Task<IResult> RetireAsync(SentForm form, CancellationToken cancellationToken)
    {
        var sensor = SensorHosting.SensorOf(form.Context);
        var id = long.TryParse(form["id"], NumberStyles.None, CultureInfo.InvariantCulture, out var number) ? number : 0;
        return SensorHosting.Done(form, sensor, await form.Service<Store>().RetireCalibrationAsync(sensor, id, cancellationToken));
    }

    /// <summary>An adjustment as the form remembers it: to a tenth of a point.</summary>
    public static string SeenOf(GravityAdjustment adjustment) =>
        string.Create(CultureInfo.InvariantCulture, $"{adjustment.OffsetPoints:F1} {adjustment.Scale:F3} {adjustment.Pairs.Count}");

    private static bool TryFrom(SentForm form, string field, out EventTime from)
    {
        from = SensorCalibration.Always;
        return form[field].Length == 0 || LocalMoment.TryRead(form[field], form.Visit.Reader, out from);
    }

    private static bool TryNumber(string typed, double lowest, double highest, out double number) =>
        double.TryParse(typed.Replace(',', '.'), NumberStyles.AllowDecimalPoint | NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out number)
        && number >= lowest && number <= highest;

    private static string Shown(string typed) => typed.Length == 0 ? SensorText.Of("nothing-typed") : $"'{typed}'";
}
