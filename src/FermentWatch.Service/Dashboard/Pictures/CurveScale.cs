using FermentWatch.Monitoring.Batches;
using FermentWatch.Oenology.Alcohol;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Service.Dashboard.Words;

namespace FermentWatch.Service.Dashboard.Pictures;

/// <summary>What the curve's height means: sugar left, or gravity as measured.</summary>
/// <param name="Kind">Which of the two.</param>
/// <param name="Value">Height of a gravity, in g/L or in the reader's unit of gravity.</param>
/// <param name="Reader">Who reads it.</param>
internal sealed record CurveScale(CurveKind Kind, Func<SpecificGravity, double> Value, Reader Reader)
{
    private const double LeastToTell = 10;

    /// <summary>Below this sugar in g/L gravity cannot tell what is left: 10, or the estimate's own error where that is more.</summary>
    public static double TooLittleToTell(BatchView view) => Math.Max(LeastToTell, view.SugarLeft?.Tolerance ?? 0);

    /// <summary>Sugar where it is wanted and the original gravity is known; else gravity.</summary>
    public static CurveScale For(BatchView view, CurveKind wanted, Reader reader)
    {
        if (wanted == CurveKind.Sugar && view.OriginalGravity is { } original)
        {
            return new CurveScale(CurveKind.Sugar, gravity => Math.Max(0, MassBalance.Of(original.Value, gravity).SugarLeft.Value.GramsPerLiter), reader);
        }

        return new CurveScale(CurveKind.Gravity, gravity => reader.GravityValue(gravity.Value), reader);
    }

    /// <summary>A value on the axis: '150' or '1.060'.</summary>
    public string Mark(double value) => Kind == CurveKind.Sugar ? Figures.Whole(value) : Reader.GravityMark(value);

    /// <summary>The top value with what it is: '200 g/L sugar left'.</summary>
    public string TopMark(double value) =>
        Kind == CurveKind.Sugar ? PageText.Of("axis-sugar", Figures.GramsPerLiter(value)) : PageText.Of("axis-gravity", GravityWithSign(value));

    /// <summary>The top value with its unit alone, where now stands close to the right end.</summary>
    public string ShortTopMark(double value) => Kind == CurveKind.Sugar ? Figures.GramsPerLiter(value) : GravityWithSign(value);

    private string GravityWithSign(double value) =>
        Reader.GravitySign.Length == 0 ? Reader.GravityMark(value) : Reader.GravityMark(value) + Figures.NoBreak + Reader.GravitySign;

    /// <summary>The newest value with its error where it is computed: '166 ± 4 g/L'.</summary>
    public string Said(BatchView view, SpecificGravity gravity)
    {
        if (Kind == CurveKind.Gravity)
        {
            return Reader.Gravity(gravity);
        }

        // The figure that every other place shows, where it is of the same level: a bin's middle lies beside the newest reading.
        var drawn = Value(gravity);
        var sugar = view.SugarLeft is { } told && Math.Abs(told.Value.GramsPerLiter - drawn) <= told.Tolerance ? Math.Max(0, told.Value.GramsPerLiter) : drawn;
        if (sugar < TooLittleToTell(view))
        {
            return PageText.Of("sugar-under", Figures.GramsPerLiter(Math.Ceiling(TooLittleToTell(view))));
        }

        return view.SugarLeft is { } left
            ? Figures.Whole(sugar) + Figures.NoBreak + Figures.WholeTolerance(left.Tolerance) + Figures.NoBreak + "g/L"
            : Figures.GramsPerLiter(sugar);
    }
}
