using System.Collections;
using System.Globalization;
using System.Reflection;
using System.Text;
using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Sulfite;

namespace FermentWatch.Oenology.Tests;

/// <summary>
/// What the library holds as data (constants, limits, thresholds, the words beside them) is as it was. Snapshots by our own code: they say only that
/// something changed, and the checks against sources stand elsewhere.
/// </summary>
/// <remarks>After a change that is meant, FERMENTWATCH_WRITE_SNAPSHOTS names the folder into which they are written anew; read the difference.</remarks>
public sealed class LibraryDataTests
{
    private static readonly Assembly Library = typeof(SpecificGravity).Assembly;

    [Fact]
    public void Constants_AreAsTheyWere()
    {
        var lines = new StringBuilder();
        // The catalogue has snapshots of its own, sheet by sheet.
        foreach (var type in Library.GetExportedTypes().Where(type => type.Namespace!.StartsWith("FermentWatch", StringComparison.Ordinal) && !type.ContainsGenericParameters && type.Name != "WorksheetCatalog").OrderBy(type => type.FullName, StringComparer.Ordinal))
        {
            const BindingFlags Shared = BindingFlags.Public | BindingFlags.Static | BindingFlags.DeclaredOnly;
            foreach (var property in type.GetProperties(Shared).Where(property => property.GetIndexParameters().Length == 0).OrderBy(property => property.Name, StringComparer.Ordinal))
            {
                lines.Append(type.FullName).Append('.').Append(property.Name).Append(" = ").AppendLine(Told(property.GetValue(null), 0));
            }

            foreach (var field in type.GetFields(Shared).Where(_ => !type.IsEnum).OrderBy(field => field.Name, StringComparer.Ordinal))
            {
                lines.Append(type.FullName).Append('.').Append(field.Name).Append(" = ").AppendLine(Told(field.GetValue(null), 0));
            }
        }

        DataSnapshot.IsAsItWas("constants", lines.ToString());
    }

    [Fact]
    public void Limits_AreAsTheyWere()
    {
        var lines = new StringBuilder();
        foreach (var additive in Enum.GetValues<Additive>())
        {
            foreach (var law in Enum.GetValues<Law>())
            {
                foreach (var color in additive is Additive.TanninPowder or Additive.SulfurDioxide ? Enum.GetValues<WineColor>() : [WineColor.Unknown])
                {
                    var context = new DoseContext(MassConcentration.FromMilligramsPerLiter(additive is Additive.Copper ? 0 : 5), color, law is Law.Us ? null : 8);
                    foreach (var milligrams in new[] { 60.0, 330, 30_000 })
                    {
                        var found = GuardRails.Assess(additive, MassConcentration.FromMilligramsPerLiter(milligrams), law, context);
                        lines.AppendLine(CultureInfo.InvariantCulture, $"{additive} {law} {color}: {found.Verdict}: {found.Sentence}");
                    }
                }
            }
        }

        DataSnapshot.IsAsItWas("limits", string.Join('\n', lines.ToString().Split('\n').Distinct()) + "\n");
    }

    private static string Told(object? value, int depth) => value switch
    {
        null => "null",
        string text => '"' + text + '"',
        Enum one => one.ToString(),
        IFormattable number when number.GetType().IsPrimitive || number is decimal => number.ToString(null, CultureInfo.InvariantCulture),
        bool truth => truth ? "true" : "false",
        Delegate => "(function)",
        IEnumerable many => "[" + string.Join(", ", many.Cast<object?>().Select(one => Told(one, depth + 1))) + "]",
        _ when depth > 5 => value.GetType().Name,
        _ => value.GetType().Name + " {" + string.Join(", ", value.GetType().GetProperties(BindingFlags.Public | BindingFlags.Instance)
            .Where(property => property.GetIndexParameters().Length == 0 && property.Name != "EqualityContract" && property.PropertyType != value.GetType())
            .OrderBy(property => property.Name, StringComparer.Ordinal)
            .Select(property => $"{property.Name} {Told(property.GetValue(value), depth + 1)}")) + "}",
    };
}
