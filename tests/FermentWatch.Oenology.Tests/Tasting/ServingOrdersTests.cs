using FermentWatch.Oenology.Tasting;

namespace FermentWatch.Oenology.Tests.Tasting;

public sealed class ServingOrdersTests
{
    private const string Table = "sensory-serving-orders.csv";

    [Fact]
    public void SizesOfDesigns_Agree() => ReferenceCheck.AllAgree(
        Table,
        row => row.Quantity.StartsWith("smallest design", StringComparison.Ordinal),
        rows: 3,
        independentRows: 3,
        row => ServingOrders.Design((int)row.Input("samples")).Length);

    [Fact]
    public void PositionCounts_Agree() => ReferenceCheck.AllAgree(
        Table,
        row => row.Quantity.StartsWith("times each sample stands", StringComparison.Ordinal),
        rows: 3,
        independentRows: 3,
        row =>
        {
            var design = ServingOrders.Design((int)row.Input("samples"));
            Assert.Equal(0, Of(design).PositionDifference);
            return design.Count(order => order[0] == 0);
        });

    [Fact]
    public void NeighborCounts_Agree() => ReferenceCheck.AllAgree(
        Table,
        row => row.Quantity.StartsWith("times each ordered neighbour", StringComparison.Ordinal),
        rows: 3,
        independentRows: 3,
        row =>
        {
            var design = ServingOrders.Design((int)row.Input("samples"));
            Assert.Equal(0, Of(design).NeighborDifference);
            return design.Sum(order => order.Zip(order.Skip(1)).Count(pair => pair is { First: 0, Second: 1 }));
        });

    // The listed sets are judged by the same measure as our own.
    [Fact]
    public void ListedSets_ArePassedAsBalanced()
    {
        var sets = ReferenceTable.Read(Table).Where(row => row.Quantity.StartsWith("serving order (one", StringComparison.Ordinal)).GroupBy(row => (int)row.Input("samples")).ToList();
        Assert.Equal([3, 4, 5], sets.Select(set => set.Key));
        Assert.All(sets, set =>
        {
            IReadOnlyList<int>[] orders = [.. set.Select(row => (IReadOnlyList<int>)[.. row.Expected.Split(' ').Select(letter => letter[0] - 'A')])];
            Assert.Equal(ServingOrders.Design(set.Key).Length, orders.Length);
            Assert.True(ServingBalance.Of(orders, set.Key).IsFull);
        });
    }

    [Fact]
    public void LeastDifferencesOfHomePanels_Agree() => ReferenceCheck.AllAgree(
        Table,
        row => row.Quantity.StartsWith("largest unavoidable", StringComparison.Ordinal),
        rows: 4,
        independentRows: 4,
        row =>
        {
            var balance = ServingOrders.Draw((int)row.Input("samples"), (int)row.Input("tasters"), 3).Balance;
            Assert.Equal(balance.LeastPositionDifference, balance.PositionDifference);
            return balance.PositionDifference;
        });

    // Plain rotation (ABC, BCA, CAB) puts every glass at every place, and never balances what follows what.
    [Fact]
    public void PlainRotation_IsJudgedAsCounted()
    {
        var rows = ReferenceTable.Read(Table).Where(row => row.Quantity.StartsWith("plain cyclic square", StringComparison.Ordinal)).ToList();
        Assert.Equal(2, rows.Count);
        Assert.All(rows, row =>
        {
            var glasses = (int)row.Input("samples");
            Assert.Equal("yes / no", row.Expected);
            var balance = ServingBalance.Of([.. Enumerable.Range(0, glasses).Select(first => (IReadOnlyList<int>)[.. Enumerable.Range(0, glasses).Select(place => (first + place) % glasses)])], glasses);
            Assert.Equal(0, balance.PositionDifference);
            Assert.True(balance.NeighborDifference > 0);
            Assert.False(balance.IsFull);
        });
    }

    [Fact]
    public void TastersForFullBalance_AgreeWithTheTable() => Assert.All(
        ReferenceTable.Read(Table).Where(row => row.Quantity.StartsWith("tasters (or", StringComparison.Ordinal)),
        row => Assert.Equal(row.Expected, $"multiple of {ServingOrders.Draw((int)row.Input("samples"), 1, 1).Balance.TastersForFullBalance}"));

    [Fact]
    public void PlainRotation_BalancesPositionAndNotNeighbors()
    {
        var rows = ReferenceTable.Read(Table).Where(row => row.Quantity.StartsWith("plain cyclic", StringComparison.Ordinal)).ToList();
        Assert.Equal(2, rows.Count);
        Assert.All(rows, row =>
        {
            var glasses = (int)row.Input("samples");
            var balance = ServingBalance.Of([.. Enumerable.Range(0, glasses).Select(turn => (IReadOnlyList<int>)[.. Enumerable.Range(0, glasses).Select(place => (place + turn) % glasses)])], glasses);
            Assert.Equal(0, balance.PositionDifference);
            Assert.Equal(glasses == 3 ? 2 : 3, balance.NeighborDifference);
        });
    }

    // All 20 sets of 3 of the 6 orders, as the table says: none is balanced.
    [Fact]
    public void ThreeOrdersOfThree_AreNeverBalanced()
    {
        IReadOnlyList<int>[] all = [[0, 1, 2], [0, 2, 1], [1, 0, 2], [1, 2, 0], [2, 0, 1], [2, 1, 0]];
        var balanced = 0;
        for (var set = 0; set < 64; set++)
        {
            var chosen = all.Where((_, order) => (set & (1 << order)) != 0).ToArray();
            balanced += chosen.Length == 3 && ServingBalance.Of(chosen, 3).IsFull ? 1 : 0;
        }

        var row = Assert.Single(ReferenceTable.Read(Table), row => row.Id == "SEN-serving-orders-039");
        Assert.Equal(row.ExpectedNumber, balanced);
    }

    // Position balance makes a Latin square: all 56 with the first order fixed, as sets of orders; relabeling loses nothing.
    [Fact]
    public void FiveOrdersOfFive_AreNeverBalanced()
    {
        var orders = Permutations([0, 1, 2, 3, 4]).Where(order => order.Select((glass, place) => glass != place).All(differs => differs)).ToList();
        var (squares, balanced) = (0, 0);
        Grow([[0, 1, 2, 3, 4]], 0);
        Assert.Equal(56, squares);
        Assert.Equal(Assert.Single(ReferenceTable.Read(Table), row => row.Id == "SEN-serving-orders-041").ExpectedNumber, balanced);

        void Grow(List<int[]> square, int from)
        {
            if (square.Count == 5)
            {
                squares++;
                balanced += ServingBalance.Of([.. square.Select(order => (IReadOnlyList<int>)order)], 5).IsFull ? 1 : 0;
                return;
            }

            for (var next = from; next < orders.Count; next++)
            {
                if (square.All(order => order.Zip(orders[next]).All(pair => pair.First != pair.Second)))
                {
                    Grow([.. square, orders[next]], next + 1);
                }
            }
        }
    }

    [Fact]
    public void EveryPanel_GetsPositionsAsEvenAsCanBe()
    {
        for (var glasses = 2; glasses <= ServingOrders.MostGlasses; glasses++)
        {
            for (var tasters = 1; tasters <= 12; tasters++)
            {
                var plan = ServingOrders.Draw(glasses, tasters, (glasses * 100) + tasters);
                Assert.Equal(tasters, plan.Orders.Length);
                Assert.All(plan.Orders, order => Assert.Equal(Enumerable.Range(0, glasses), order.Order()));
                Assert.True(plan.Balance.PositionDifference == plan.Balance.LeastPositionDifference, $"{glasses} glasses, {tasters} tasters");
                Assert.Equal(tasters % plan.Balance.TastersForFullBalance == 0, plan.Balance.IsFull);
            }
        }
    }

    [Fact]
    public void SameSeed_GivesTheSameOrdersAndAnotherSeedOthers()
    {
        Assert.Equal(Text(ServingOrders.Draw(5, 7, 42)), Text(ServingOrders.Draw(5, 7, 42)));
        Assert.True(Enumerable.Range(0, 20).Select(seed => Text(ServingOrders.Draw(5, 7, seed))).Distinct().Count() > 15);
    }

    [Fact]
    public void Triangles_UseAllSixOrdersEvenly()
    {
        var orders = ServingOrders.Triangles(14, 5);
        Assert.Equal(6, orders.Distinct().Count());
        Assert.All(orders.GroupBy(order => order), group => Assert.InRange(group.Count(), 2, 3));
        Assert.Equal(14, orders.Length);
    }

    [Fact]
    public void Codes_AreDifferentThreeDigitsWithNothingToReadIntoThem()
    {
        Assert.True(GlassCodes.Available > 500);
        var codes = GlassCodes.Draw(60, 9);
        Assert.Equal(60, codes.Distinct().Count());
        Assert.All(codes, code =>
        {
            Assert.Matches("^[1-9][0-9]{2}$", code);
            Assert.Equal(3, code.Distinct().Count());
            Assert.NotEqual(code[1] - code[0], code[2] - code[1]);
        });
        Assert.Empty(GlassCodes.Draw(60, 9, codes).Intersect(codes));
    }

    private static ServingBalance Of(System.Collections.Immutable.ImmutableArray<System.Collections.Immutable.ImmutableArray<int>> design) =>
        ServingBalance.Of([.. design.Select(order => (IReadOnlyList<int>)order)], design[0].Length);

    private static IEnumerable<int[]> Permutations(int[] items) => items.Length == 0
        ? [[]]
        : items.SelectMany(item => Permutations([.. items.Where(other => other != item)]).Select(rest => (int[])[item, .. rest]));

    private static string Text(ServingPlan plan) => string.Join('|', plan.Orders.Select(order => string.Join(',', order)));
}
