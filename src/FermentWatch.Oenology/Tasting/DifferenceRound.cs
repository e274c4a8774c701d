using System.Collections.Immutable;
using System.Text.Json.Serialization;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Tasting;

/// <summary>What one taster is served.</summary>
/// <param name="Taster">Who.</param>
/// <param name="Codes">Codes in the order of serving; in a duo-trio the marked reference comes before them.</param>
/// <param name="RightCode">The code that counts as right: the odd glass, the one like the reference, the one that holds the second sample.</param>
public sealed record DifferenceServing(string Taster, ImmutableArray<string> Codes, string RightCode);

/// <summary>A comparison of two samples, ready to pour: the control, or any first sample, and a second one.</summary>
/// <param name="Method">How they are compared.</param>
/// <param name="FirstCodes">Codes of the first sample, such as the control: the reference in a duo-trio.</param>
/// <param name="SecondCodes">Codes of the second sample, such as the chosen glass.</param>
/// <param name="Servings">What each taster is served.</param>
public sealed record DifferenceRound(
    DifferenceMethod Method,
    ImmutableArray<string> FirstCodes,
    ImmutableArray<string> SecondCodes,
    ImmutableArray<DifferenceServing> Servings)
{
    /// <summary>Whether even full agreement of this panel reaches 0.05; when false the round can't prove anything.</summary>
    [JsonIgnore]
    public bool CanReachLevel => DifferenceTest.SmallestSignificant(Method, Servings.Length) is not null;

    /// <summary>Plans a round.</summary>
    /// <param name="method">How the samples are compared; one glass of three at one concentration is poured as a triangle with one spiked glass.</param>
    /// <param name="tasters">Different names, 1 to 1000.</param>
    /// <param name="seed">Decides codes and orders.</param>
    /// <remarks>Triangle: the six orders AAB to BBA as evenly as can be. Others: the right glass stands first as often as last. <b>Check.</b>
    /// DifferenceRoundTests.</remarks>
    /// <exception cref="ArgumentOutOfRangeException">Not 1 to 1000 tasters.</exception>
    /// <exception cref="ArgumentException">A name comes twice.</exception>
    public static DifferenceRound Plan(DifferenceMethod method, IReadOnlyList<string> tasters, long seed)
    {
        ArgumentNullException.ThrowIfNull(tasters);
        QuantityRange.Require(tasters.Count, 1, 1000, "tasters", "people");
        if (tasters.Distinct(StringComparer.Ordinal).Count() != tasters.Count)
        {
            throw new ArgumentException("The tasters must have different names.", nameof(tasters));
        }

        var codes = GlassCodes.Draw(4, seed);
        var orders = Orders(method, tasters.Count, seed);
        return new(
            method,
            [codes[0], codes[1]],
            [codes[2], codes[3]],
            [.. tasters.Select((taster, index) => Serving(method, taster, orders[index], codes))]);
    }

    /// <summary>Counts and judges the answers.</summary>
    /// <param name="named">For each taster who answered the code that was named.</param>
    /// <param name="level">Level asked for.</param>
    /// <exception cref="ArgumentException">Nobody answered, or a code that the taster was not served.</exception>
    public DifferenceResult Judge(IReadOnlyDictionary<string, string> named, double level = DifferenceTest.UsualLevel)
    {
        ArgumentNullException.ThrowIfNull(named);
        var answered = Servings.Where(serving => named.ContainsKey(serving.Taster)).ToList();
        if (answered.Count == 0)
        {
            throw new ArgumentException("Nobody has answered yet; at least one answer is needed.", nameof(named));
        }

        if (answered.Find(serving => !serving.Codes.Contains(named[serving.Taster])) is { } wrong)
        {
            throw new ArgumentException($"{named[wrong.Taster]} was not served to {wrong.Taster}; it must be one of {string.Join(", ", wrong.Codes)}.", nameof(named));
        }

        return DifferenceTest.Judge(Method, answered.Count, answered.Count(serving => named[serving.Taster] == serving.RightCode), level);
    }

    private static ImmutableArray<string> Orders(DifferenceMethod method, int tasters, long seed)
    {
        if (method is DifferenceMethod.Triangle)
        {
            return ServingOrders.Triangles(tasters, seed);
        }

        string[] all = method is DifferenceMethod.OneOfThree ? ["AAB", "ABA", "BAA"] : ["AB", "BA"];
        var draw = new SeededDraw(seed);
        var orders = new List<string>();
        while (orders.Count < tasters)
        {
            orders.AddRange(draw.Shuffle(all));
        }

        return [.. orders.Take(tasters)];
    }

    private static DifferenceServing Serving(DifferenceMethod method, string taster, string order, ImmutableArray<string> codes)
    {
        var (first, second) = (0, 2);
        ImmutableArray<string> served = [.. order.Select(letter => letter == 'A' ? codes[first++] : codes[second++])];
        var right = method switch
        {
            DifferenceMethod.Triangle or DifferenceMethod.OneOfThree => served[order.IndexOf(order.Count(letter => letter == 'A') == 1 ? 'A' : 'B', StringComparison.Ordinal)],
            DifferenceMethod.DuoTrio => served[order.IndexOf('A', StringComparison.Ordinal)],
            _ => served[order.IndexOf('B', StringComparison.Ordinal)],
        };
        return new(taster, served, right);
    }
}
