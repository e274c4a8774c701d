using System.Numerics;
using System.Runtime.InteropServices;

namespace FermentWatch.Monitoring.Forecasting;

/// <summary>Sums of products of columns of equal length: what the normal equations are made of.</summary>
/// <remarks>Every sum is taken in the same order, whether alone or beside others, so that it is the same to the last bit.</remarks>
internal static class ColumnProducts
{
    private const int Beside = 4;

    /// <summary>Writes the products of one column with the first columns of a block and, last, with <paramref name="right"/>.</summary>
    /// <param name="column">The one column.</param>
    /// <param name="block">Columns, one after the other.</param>
    /// <param name="right">One more column.</param>
    /// <param name="products">Receives the products; its length less one says with how many columns of the block.</param>
    public static void Write(ReadOnlySpan<double> column, ReadOnlySpan<double> block, ReadOnlySpan<double> right, Span<double> products)
    {
        var rows = column.Length;
        var k = 0;
        for (; k + Beside <= products.Length; k += Beside)
        {
            var last = k + Beside == products.Length ? right : block.Slice((k + 3) * rows, rows);
            WriteFour(column, block.Slice(k * rows, rows), block.Slice((k + 1) * rows, rows), block.Slice((k + 2) * rows, rows), last, products[k..]);
        }

        for (; k < products.Length; k++)
        {
            products[k] = Dot(column, k == products.Length - 1 ? right : block.Slice(k * rows, rows));
        }
    }

    /// <summary>Element by element, as many as <paramref name="left"/> has.</summary>
    public static void Multiply(ReadOnlySpan<double> left, ReadOnlySpan<double> right, Span<double> product)
    {
        var wide = MemoryMarshal.Cast<double, Vector<double>>(left);
        var wideRight = MemoryMarshal.Cast<double, Vector<double>>(right)[..wide.Length];
        var wideProduct = MemoryMarshal.Cast<double, Vector<double>>(product)[..wide.Length];
        for (var i = 0; i < wide.Length; i++)
        {
            wideProduct[i] = wide[i] * wideRight[i];
        }

        for (var i = wide.Length * Vector<double>.Count; i < left.Length; i++)
        {
            product[i] = left[i] * right[i];
        }
    }

    /// <summary>The sum of the products of two columns.</summary>
    public static double Dot(ReadOnlySpan<double> left, ReadOnlySpan<double> right)
    {
        var wide = MemoryMarshal.Cast<double, Vector<double>>(left);
        var wideRight = MemoryMarshal.Cast<double, Vector<double>>(right)[..wide.Length];

        // Two sums side by side: an addition need not wait for the one before.
        var (even, odd) = (Vector<double>.Zero, Vector<double>.Zero);
        var i = 0;
        for (; i + 1 < wide.Length; i += 2)
        {
            even = Vector.FusedMultiplyAdd(wide[i], wideRight[i], even);
            odd = Vector.FusedMultiplyAdd(wide[i + 1], wideRight[i + 1], odd);
        }

        return Rest(left, right, i * Vector<double>.Count, Vector.Sum(even + odd));
    }

    // Four columns share the loads of the one, and eight sums hide what one addition waits for the other.
    private static void WriteFour(
        ReadOnlySpan<double> column,
        ReadOnlySpan<double> a,
        ReadOnlySpan<double> b,
        ReadOnlySpan<double> c,
        ReadOnlySpan<double> d,
        Span<double> products)
    {
        var wide = MemoryMarshal.Cast<double, Vector<double>>(column);
        var wideA = MemoryMarshal.Cast<double, Vector<double>>(a)[..wide.Length];
        var wideB = MemoryMarshal.Cast<double, Vector<double>>(b)[..wide.Length];
        var wideC = MemoryMarshal.Cast<double, Vector<double>>(c)[..wide.Length];
        var wideD = MemoryMarshal.Cast<double, Vector<double>>(d)[..wide.Length];
        var (evenA, evenB, evenC, evenD) = (Vector<double>.Zero, Vector<double>.Zero, Vector<double>.Zero, Vector<double>.Zero);
        var (oddA, oddB, oddC, oddD) = (Vector<double>.Zero, Vector<double>.Zero, Vector<double>.Zero, Vector<double>.Zero);
        var i = 0;
        for (; i + 1 < wide.Length; i += 2)
        {
            var (even, odd) = (wide[i], wide[i + 1]);
            evenA = Vector.FusedMultiplyAdd(even, wideA[i], evenA);
            evenB = Vector.FusedMultiplyAdd(even, wideB[i], evenB);
            evenC = Vector.FusedMultiplyAdd(even, wideC[i], evenC);
            evenD = Vector.FusedMultiplyAdd(even, wideD[i], evenD);
            oddA = Vector.FusedMultiplyAdd(odd, wideA[i + 1], oddA);
            oddB = Vector.FusedMultiplyAdd(odd, wideB[i + 1], oddB);
            oddC = Vector.FusedMultiplyAdd(odd, wideC[i + 1], oddC);
            oddD = Vector.FusedMultiplyAdd(odd, wideD[i + 1], oddD);
        }

        i *= Vector<double>.Count;
        products[0] = Rest(column, a, i, Vector.Sum(evenA + oddA));
        products[1] = Rest(column, b, i, Vector.Sum(evenB + oddB));
        products[2] = Rest(column, c, i, Vector.Sum(evenC + oddC));
        products[3] = Rest(column, d, i, Vector.Sum(evenD + oddD));
    }

    private static double Rest(ReadOnlySpan<double> left, ReadOnlySpan<double> right, int from, double sum)
    {
        for (var i = from; i < left.Length; i++)
        {
            sum += left[i] * right[i];
        }

        return sum;
    }
}
