using System.Reflection;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Tests.Quantities;

/// <summary>What every quantity keeps to; a new one is checked without a new test.</summary>
public sealed class QuantityRulesTests
{
    private static readonly Type[] Types =
        [.. typeof(SpecificGravity).Assembly.GetExportedTypes().Where(type => type.IsValueType && type.Namespace == typeof(SpecificGravity).Namespace && Makers(type).Any())];

    public static TheoryData<string> Names => [.. Types.Select(type => type.Name)];

    // What is no number, or absurd, is refused by a sentence with the value and both bounds.
    [Theory]
    [MemberData(nameof(Names))]
    public void AbsurdValue_IsRefusedWithItsNameAndBounds(string name)
    {
        foreach (var maker in Makers(Of(name)))
        {
            foreach (var absurd in new[] { double.NaN, double.NegativeInfinity, -1e12, 1e12, double.PositiveInfinity })
            {
                var fault = Assert.Throws<ArgumentOutOfRangeException>(() => Make(maker, absurd));
                Assert.False(string.IsNullOrWhiteSpace(fault.ParamName), maker.Name);
                Assert.Matches(@"^\w.* is \S+.*; it must be from .*\d.* to .*\d", fault.Message);
            }
        }
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Comparisons_AgreeWithTheOrderOfTheNumbers(string name)
    {
        var type = Of(name);
        var maker = Makers(type).First();
        var made = Enumerable.Range(0, 8000).Select(step => TryMake(maker, step < 4000 ? step / 1000.0 : step - 4000)).OfType<object>().Distinct().Take(200).ToList();
        Assert.True(made.Count >= 2, $"{name} takes fewer than two of the numbers from 0 to 4000");
        foreach (var (operation, expected) in new (string, Func<int, bool>)[]
        {
            ("op_LessThan", order => order < 0), ("op_GreaterThan", order => order > 0), ("op_LessThanOrEqual", order => order <= 0), ("op_GreaterThanOrEqual", order => order >= 0),
        })
        {
            if (type.GetMethod(operation, [type, type]) is not { } compare)
            {
                continue;
            }

            foreach (var (left, right, order) in new[] { (made[0], made[1], -1), (made[1], made[0], 1), (made[0], made[0], 0) })
            {
                Assert.Equal(expected(order), compare.Invoke(null, [left, right]));
            }
        }

        if (made[0] is IComparable comparable)
        {
            Assert.True(comparable.CompareTo(made[1]) < 0);
            Assert.Equal(0, comparable.CompareTo(made[0]));
        }
    }

    private static Type Of(string name) => Types.Single(type => type.Name == name);

    private static IEnumerable<MethodInfo> Makers(Type type) => type.GetMethods(BindingFlags.Public | BindingFlags.Static)
        .Where(method => method.Name.StartsWith("From", StringComparison.Ordinal) && method.ReturnType == type && method.GetParameters() is [{ } only] && only.ParameterType == typeof(double));

    private static object? TryMake(MethodInfo maker, double value)
    {
        try
        {
            return Make(maker, value);
        }
        catch (ArgumentOutOfRangeException)
        {
            return null;
        }
    }

    private static object? Make(MethodInfo maker, double value)
    {
        try
        {
            return maker.Invoke(null, [value]);
        }
        catch (TargetInvocationException exception)
        {
            throw exception.InnerException!;
        }
    }
}
