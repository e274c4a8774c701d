using System.Reflection;
using System.Runtime.CompilerServices;

namespace FermentWatch.Oenology.Tests;

/// <summary>A caller who passes nothing is told so by the name of the argument, and not by a fault somewhere inside.</summary>
public sealed class NullArgumentTests
{
    private static readonly Assembly Library = typeof(Oenology.Quantities.SpecificGravity).Assembly;

    [Fact]
    public void PublicFunction_GivenNothing_NamesTheArgument()
    {
        var nullability = new NullabilityInfoContext();
        var tried = 0;
        var silent = new List<string>();
        // The builders of the catalogue only hold words together; its own tests find one that is missing.
        foreach (var method in Library.GetExportedTypes().Where(type => type.Namespace!.StartsWith("FermentWatch", StringComparison.Ordinal) && !type.ContainsGenericParameters && type.Namespace != typeof(Oenology.Worksheets.Worksheet).Namespace)
            .SelectMany(type => type.GetMethods(BindingFlags.Public | BindingFlags.Static | BindingFlags.DeclaredOnly))
            .Where(method => !method.IsSpecialName && !method.ContainsGenericParameters))
        {
            var parameters = method.GetParameters();
            // Only the first argument that must be given: a later one may be judged after it.
            var asked = Array.FindIndex(parameters, parameter => !parameter.ParameterType.IsValueType && nullability.Create(parameter).WriteState == NullabilityState.NotNull);
            if (asked < 0 || parameters.Any(parameter => parameter.ParameterType.IsByRef || parameter.ParameterType.IsByRefLike))
            {
                continue;
            }

            tried++;
            if (Answer(method, parameters) is not ArgumentException)
            {
                silent.Add($"{method.DeclaringType!.Name}.{method.Name}({parameters[asked].Name}): {Answer(method, parameters)?.GetType().Name ?? "no fault"}");
            }
        }

        Assert.True(tried > 40, $"only {tried} functions were tried");
        Assert.True(silent.Count == 0, string.Join("\n", silent));
    }

    [Fact]
    public void PublicMethod_GivenNothing_NamesTheArgument()
    {
        var nullability = new NullabilityInfoContext();
        var (tried, silent) = (0, new List<string>());
        // Fields of a form only hold words together, as above; what a value type does it does on its default.
        foreach (var method in Library.GetExportedTypes().Where(type => type.Namespace!.StartsWith("FermentWatch", StringComparison.Ordinal) && !type.ContainsGenericParameters && !type.IsAbstract && !type.IsAssignableTo(typeof(Exception)) && !type.IsAssignableTo(typeof(Delegate)) && type.Namespace != typeof(Oenology.Worksheets.Worksheet).Namespace)
            .SelectMany(type => type.GetMethods(BindingFlags.Public | BindingFlags.Instance | BindingFlags.DeclaredOnly))
            .Where(method => !method.IsSpecialName && !method.ContainsGenericParameters && method.Name != nameof(Equals)))
        {
            var parameters = method.GetParameters();
            if (parameters.Length == 0 || parameters.Any(parameter => parameter.ParameterType.IsByRef || parameter.ParameterType.IsByRefLike)
                || parameters[0].ParameterType.IsValueType || nullability.Create(parameters[0]).WriteState != NullabilityState.NotNull)
            {
                continue;
            }

            tried++;
            var target = RuntimeHelpers.GetUninitializedObject(method.DeclaringType!);
            if (Answer(method, parameters, target) is not ArgumentException)
            {
                silent.Add($"{method.DeclaringType!.Name}.{method.Name}({parameters[0].Name}): {Answer(method, parameters, target)?.GetType().Name ?? "no fault"}");
            }
        }

        Assert.True(tried > 10, $"only {tried} methods were tried");
        Assert.True(silent.Count == 0, string.Join("\n", silent));
    }

    private static Exception? Answer(MethodInfo method, ParameterInfo[] parameters, object? target = null)
    {
        try
        {
            method.Invoke(target, [.. parameters.Select(parameter => parameter.ParameterType.IsValueType ? Activator.CreateInstance(parameter.ParameterType) : null)]);
            return null;
        }
        catch (TargetInvocationException exception)
        {
            return exception.InnerException;
        }
    }
}
