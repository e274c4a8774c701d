using System.Collections.Immutable;
using System.Numerics;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Tasting;

/// <summary>Orders in which tasters get their glasses, so that no glass gains by its place or by its neighbor.</summary>
public static class ServingOrders
{
    /// <summary>Most glasses in a flight: more tire the palate (common practice, no source).</summary>
    public const int MostGlasses = 6;

    /// <summary>The smallest set of orders balanced for position and first-order carry-over.</summary>
    /// <param name="glasses">2 to 6.</param>
    /// <remarks><b>Construction.</b> Zigzag first row 0, 1, k − 1, 2, k − 2 …, developed cyclically; for odd k the reversed rows as well.
    /// So k orders for even k, 2k for odd k. Sets of 3 orders of 3, or 5 of 5, do not exist, and plain rotation never balances carry-over.
    /// <b>Source.</b> [Williams1949]. <b>Check.</b> ServingOrdersTests.</remarks>
    /// <exception cref="ArgumentOutOfRangeException">Not 2 to 6 glasses.</exception>
    public static ImmutableArray<ImmutableArray<int>> Design(int glasses)
    {
        QuantityRange.Require(glasses, 2, MostGlasses, "glasses", "glasses");
        var first = Enumerable.Range(0, glasses).Select(place => place % 2 == 1 ? (place + 1) / 2 : (glasses - (place / 2)) % glasses).ToList();
        var rows = Enumerable.Range(0, glasses)
            .Select(turn => first.Select(glass => (glass + turn) % glasses).ToImmutableArray())
            .ToList();
        return glasses % 2 == 0 ? [.. rows] : [.. rows, .. rows.Select(row => row.Reverse().ToImmutableArray())];
    }

    /// <summary>Draws an order for each taster.</summary>
    /// <param name="glasses">2 to 6.</param>
    /// <param name="tasters">1 to 60.</param>
    /// <param name="seed">Decides the draw.</param>
    /// <remarks>Whole designs as often as they fit; for the tasters left over the rows of one design that balance position best and,
    /// among those, carry-over best. Then the glasses and the rows are shuffled.</remarks>
    /// <exception cref="ArgumentOutOfRangeException">Outside these ranges.</exception>
    public static ServingPlan Draw(int glasses, int tasters, long seed)
    {
        QuantityRange.Require(tasters, 1, 60, "tasters", "people");
        var design = Design(glasses);
        var draw = new SeededDraw(seed);
        var orders = Enumerable.Range(0, tasters / design.Length).SelectMany(_ => design).ToList();
        orders.AddRange(BestRows(design, tasters % design.Length, glasses, draw));

        var names = draw.Shuffle(Enumerable.Range(0, glasses));
        ImmutableArray<ImmutableArray<int>> drawn =
            [.. draw.Shuffle(orders).Select(order => order.Select(glass => names[glass]).ToImmutableArray())];
        return new(drawn, ServingBalance.Of([.. drawn.Select(order => (IReadOnlyList<int>)order)], glasses));
    }

    /// <summary>For each taster of a triangle test which of the six orders AAB, ABA, BAA, ABB, BAB, BBA to pour, each used as evenly as can be.</summary>
    /// <param name="tasters">1 to 1000.</param>
    /// <param name="seed">Decides the draw.</param>
    /// <exception cref="ArgumentOutOfRangeException">Not 1 to 1000.</exception>
    public static ImmutableArray<string> Triangles(int tasters, long seed)
    {
        QuantityRange.Require(tasters, 1, 1000, "tasters", "people");
        var draw = new SeededDraw(seed);
        var orders = new List<string>();
        while (orders.Count < tasters)
        {
            orders.AddRange(draw.Shuffle(["AAB", "ABA", "BAA", "ABB", "BAB", "BBA"]));
        }

        return [.. orders.Take(tasters)];
    }

    private static List<ImmutableArray<int>> BestRows(ImmutableArray<ImmutableArray<int>> design, int count, int glasses, SeededDraw draw)
    {
        if (count == 0)
        {
            return [];
        }

        var candidates = draw.Shuffle(Enumerable.Range(1, (1 << design.Length) - 1).Where(set => BitOperations.PopCount((uint)set) == count))
            .Select(set => design.Where((_, row) => (set & (1 << row)) != 0).ToList());
        return candidates.MinBy(rows =>
        {
            var balance = ServingBalance.Of([.. rows.Select(row => (IReadOnlyList<int>)row)], glasses);
            return (balance.PositionDifference, balance.NeighborDifference);
        })!;
    }
}
