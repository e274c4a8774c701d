using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Sulfite;

/// <summary>What a maker without a test kit knows: when sulfite was last added.</summary>
public enum SulfiteHistory
{
    /// <summary>None since fermentation ended.</summary>
    NoneSinceFermentation,

    /// <summary>More than eight weeks ago.</summary>
    MoreThanEightWeeks,

    /// <summary>Two to eight weeks ago.</summary>
    TwoToEightWeeks,

    /// <summary>Less than two weeks ago.</summary>
    LessThanTwoWeeks,
}

/// <summary>The path without a test kit: a stated range by history. Met by practice, not measured.</summary>
public static class SulfiteByHistory
{
    /// <summary>Range of an addition, as total sulfur dioxide. [mg/L]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> None since fermentation 40 to 60; more than eight weeks ago 30 to 50; two to eight weeks 20 to 30; less than
    /// two weeks: nothing.</para>
    /// <para><b>Valid.</b> pH up to 3.6; above, no usual dose is enough. Free sulfite is lost by racking and air at no reliable rate.</para>
    /// <para><b>Error.</b> Unknown: free sulfite may be anything from 0 to 50 mg/L. <b>Source.</b> Common practice, no source.
    /// <b>Check.</b> SulfiteDoseTests.</para>
    /// </remarks>
    public static SulfiteAddition RangeOf(SulfiteHistory history) => history switch
    {
        SulfiteHistory.NoneSinceFermentation => Range(40, 60),
        SulfiteHistory.MoreThanEightWeeks => Range(30, 50),
        SulfiteHistory.TwoToEightWeeks => Range(20, 30),
        SulfiteHistory.LessThanTwoWeeks => Range(0, 0),
        _ => throw new ArgumentOutOfRangeException(nameof(history), history, "The history must be one of those listed."),
    };

    private static SulfiteAddition Range(double least, double most) =>
        new(MassConcentration.FromMilligramsPerLiter(least), MassConcentration.FromMilligramsPerLiter(most));
}
