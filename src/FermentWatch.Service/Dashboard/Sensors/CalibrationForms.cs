using System.Globalization;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Monitoring.Telemetry.Calibration;
using FermentWatch.Service.Dashboard.Forms;
using FermentWatch.Service.Dashboard.Journal;
using FermentWatch.Service.Dashboard.Words;

namespace FermentWatch.Service.Dashboard.Sensors;

/// <summary>Forms that take over and take back calibrations.</summary>
internal static class CalibrationForms
{
    private static readonly JournalField Angle = new("angle", FieldShape.Number, true) { Low = 0, High = 90, Digits = 2 };

    private static readonly JournalField Gravity = new("gravity", FieldShape.Number, true) { Unit = "SG", Low = 0.9, High = 1.3, Digits = 3 };

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

            if (Read(form, Angle, degrees) is not { } angle)
            {
                return SensorHosting.Again(form, sensor, $"angle-{row}", SensorText.Of("fault-angle", row, Shown(degrees)));
            }

            if (Read(form, Gravity, gravity) is not { } ratio)
            {
                var reader = form.Visit.Reader;
                return SensorHosting.Again(form, sensor, $"gravity-{row}", SensorText.Of(
                    "fault-gravity", row, Shown(gravity),
                    reader.FieldLimit(Gravity.Low, "SG", isLowest: true), reader.FieldLimit(Gravity.High, "SG", isLowest: false) + Figures.NoBreak + reader.FieldUnit("SG"),
                    reader.FieldText(1.042, "SG", 3)));
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

    /// <summary>The number in the field's unit, or null where what was typed is none within its range.</summary>
    private static double? Read(SentForm form, JournalField field, string typed) =>
        new FieldNumbers(form.Visit.Reader).Read(field, typed).Value is { } number && number >= field.Low && number <= field.High ? number : null;

    private static string Shown(string typed) => typed.Length == 0 ? SensorText.Of("nothing-typed") : $"'{typed}'";
}
