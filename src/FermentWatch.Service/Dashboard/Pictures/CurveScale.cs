using FermentWatch.Monitoring.Batches;
using FermentWatch.Oenology.Alcohol;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Service.Dashboard.Words;

namespace FermentWatch.Service.Dashboard.Pictures;

/// <summary>What the curve's height means: sugar left, or gravity as measured.</summary>
/// <param name="Kind">Which of the two.</param>
/// <param name="Value">Height of a gravity.</param>
internal sealed record CurveScale(CurveKind Kind, Func<SpecificGravity, double> Value)
{
    private const double LeastToTell = 10;

    /// <summary>Below this sugar in g/L gravity cannot tell what is left: 10, or the estimate's own error where that is more.</summary>
    public static double TooLittleToTell(BatchView view) => Math.Max(LeastToTell, view.SugarLeft?.Tolerance ?? 0);

    /// <summary>Sugar where it is wanted and the original gravity is known; else gravity.</summary>
    public static CurveScale For(BatchView view, CurveKind wanted)
    {
        if (wanted == CurveKind.Sugar && view.OriginalGravity is { } original)
        {
            return new CurveScale(CurveKind.Sugar, gravity => Math.Max(0, MassBalance.Of(original.Value, gravity).SugarLeft.Value.GramsPerLiter));
        }

        return new CurveScale(CurveKind.Gravity, gravity => gravity.Value);
    }

    /// <summary>A value on the axis: '150' or '1.060'.</summary>
    public string Mark(double value) => Kind == CurveKind.Sugar ? Figures.Whole(value) : Figures.Gravity(value);

    /// <summary>The top value with what it is: '200 g/L sugar left'.</summary>
    public string TopMark(double value) =>
        Kind == CurveKind.Sugar ? PageText.Of("axis-sugar", Figures.GramsPerLiter(value)) : PageText.Of("axis-gravity", Figures.Gravity(value));

    /// <summary>The top value with its unit alone, where now stands close to the right end.</summary>
    public string ShortTopMark(double value) => Kind == CurveKind.Sugar ? Figures.GramsPerLiter(value) : Figures.Gravity(value);

    /// <summary>The newest value with its error where it is computed: '166 ± 4 g/L'.</summary>
    public string Said(BatchView view, SpecificGravity gravity)
    {
        if (Kind == CurveKind.Gravity)
        {
            return Figures.Gravity(gravity);
        }

        var sugar = Value(gravity);
        if (sugar < TooLittleToTell(view))
        {
            return PageText.Of("sugar-under", Figures.GramsPerLiter(Math.Ceiling(TooLittleToTell(view))));
        }

        return view.SugarLeft is { } left
            ? Figures.Whole(sugar) + Figures.NoBreak + Figures.WholeTolerance(left.Tolerance) + Figures.NoBreak + "g/L"
            : Figures.GramsPerLiter(sugar);
    }
}
