using System.Collections.Immutable;

namespace FermentWatch.Oenology.Tasting;

/// <summary>In which order each taster gets the glasses, and how even that is.</summary>
/// <param name="Orders">A row a taster: positions of the glasses in the flight's list (0, 1, ...), first to last.</param>
/// <param name="Balance">How even it is.</param>
public sealed record ServingPlan(ImmutableArray<ImmutableArray<int>> Orders, ServingBalance Balance);

/// <summary>How even a set of serving orders is: the two things that can be balanced, and whether they are.</summary>
/// <param name="PositionDifference">Largest difference between how often two glasses stand at the same position. 0 is balanced.</param>
/// <param name="LeastPositionDifference">The smallest that this many tasters allow: 1, unless they are a multiple of the glasses.</param>
/// <param name="NeighborDifference">Largest difference between how often a glass follows another, over all ordered pairs. 0 is balanced.</param>
/// <param name="TastersForFullBalance">Full balance takes a multiple of this many tasters or sittings.</param>
public sealed record ServingBalance(int PositionDifference, int LeastPositionDifference, int NeighborDifference, int TastersForFullBalance)
{
    /// <summary>Whether position and carry-over are both balanced. When false the page says 'as balanced as can be with this many'.</summary>
    public bool IsFull => PositionDifference == 0 && NeighborDifference == 0;

    /// <summary>Measures a set of orders.</summary>
    public static ServingBalance Of(IReadOnlyList<IReadOnlyList<int>> orders, int glasses)
    {
        ArgumentNullException.ThrowIfNull(orders);
        var positions = new int[glasses, glasses];
        var neighbors = new int[glasses, glasses];
        foreach (var order in orders)
        {
            for (var place = 0; place < order.Count; place++)
            {
                positions[order[place], place]++;
                if (place > 0)
                {
                    neighbors[order[place - 1], order[place]]++;
                }
            }
        }

        var pairs = Enumerable.Range(0, glasses).SelectMany(a => Enumerable.Range(0, glasses).Where(b => b != a).Select(b => neighbors[a, b])).ToList();
        var spread = Enumerable.Range(0, glasses)
            .Max(place => Spread([.. Enumerable.Range(0, glasses).Select(glass => positions[glass, place])]));
        return new(spread, orders.Count % glasses == 0 ? 0 : 1, Spread(pairs), glasses % 2 == 0 ? glasses : 2 * glasses);
    }

    private static int Spread(List<int> counts) => counts.Max() - counts.Min();
}
