using System.Globalization;
using System.Reflection;
using System.Text.RegularExpressions;

namespace FermentWatch.Oenology.Tests;

/// <summary>A caller who passes a number that cannot be is told in one whole sentence what it was called and what it must be.</summary>
public sealed partial class RefusedNumberTests
{
    private static readonly Assembly Library = typeof(Oenology.Quantities.SpecificGravity).Assembly;

    // Numbers that hardly any quantity can be; whole ones for counts.
    private static readonly double[] Impossible = [double.NaN, double.PositiveInfinity, -1e12, 1e12];

    [GeneratedRegex(@"^\S.* must be \S.*[^ ]\.")]
    private static partial Regex WholeSentence { get; }

    [Fact]
    public void ImpossibleNumber_IsRefusedByItsNameAndRange()
    {
        var (told, wrong) = (new SortedSet<string>(StringComparer.Ordinal), new SortedSet<string>(StringComparer.Ordinal));
        foreach (var method in Library.GetExportedTypes().Where(type => type.Namespace!.StartsWith("FermentWatch", StringComparison.Ordinal) && !type.ContainsGenericParameters).SelectMany(type => type.GetMethods(BindingFlags.Public | BindingFlags.Static | BindingFlags.DeclaredOnly))
            .Where(method => !method.IsSpecialName && !method.ContainsGenericParameters))
        {
            var parameters = method.GetParameters();
            if (parameters.Any(parameter => parameter.ParameterType.IsByRef || parameter.ParameterType.IsByRefLike))
            {
                continue;
            }

            for (var place = 0; place < parameters.Length; place++)
            {
                if (parameters[place].ParameterType != typeof(double) && parameters[place].ParameterType != typeof(int))
                {
                    continue;
                }

                foreach (var number in Impossible)
                {
                    if (Refusal(method, parameters, place, number) is not { } refusal)
                    {
                        continue;
                    }

                    // The runtime adds the name and the value behind the sentence; its own sentences may change with it.
                    var sentence = refusal.Message.Contains("('", StringComparison.Ordinal) ? $"{refusal.ParamName} is refused" : refusal.Message.Split(Environment.NewLine)[0];
                    told.Add(string.Create(CultureInfo.InvariantCulture, $"{method.DeclaringType!.Name}.{method.Name}({parameters[place].Name} {number}): {sentence}"));
                    if (string.IsNullOrWhiteSpace(refusal.ParamName) || !WholeSentence.IsMatch(refusal.Message) || refusal.Message.Contains("  ", StringComparison.Ordinal) || refusal.Message.Contains(" ;", StringComparison.Ordinal))
                    {
                        wrong.Add($"{method.DeclaringType!.Name}.{method.Name}({parameters[place].Name}): {refusal.Message}");
                    }
                }
            }
        }

        Assert.True(wrong.Count == 0, string.Join("\n", wrong));
        DataSnapshot.IsAsItWas("refusals", string.Join('\n', told) + "\n");
    }

    private static ArgumentOutOfRangeException? Refusal(MethodInfo method, ParameterInfo[] parameters, int place, double number)
    {
        try
        {
            method.Invoke(null, [.. parameters.Select((parameter, index) => index == place ? Of(parameter.ParameterType, number) : Usual(parameter.ParameterType))]);
            return null;
        }
        catch (TargetInvocationException exception)
        {
            return exception.InnerException as ArgumentOutOfRangeException;
        }
    }

    // A count takes a whole number, and nothing that is no number.
    private static object Of(Type type, double number) =>
        Convert.ChangeType(type == typeof(int) ? Math.Clamp(double.IsNaN(number) ? -1e9 : number, -1e9, 1e9) : number, type, CultureInfo.InvariantCulture);

    private static object? Usual(Type type) => type == typeof(double) ? 0.5 : type == typeof(int) ? (object)3 : type.IsValueType ? Activator.CreateInstance(type) : null;
}
