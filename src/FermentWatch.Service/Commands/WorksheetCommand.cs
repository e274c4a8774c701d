using System.CommandLine;
using FermentWatch.Oenology.Worksheets;
using FermentWatch.Service.Worksheets;

namespace FermentWatch.Service.Commands;

/// <summary>Computes a worksheet in the terminal, offline and without a data directory.</summary>
internal static class WorksheetCommand
{
    /// <summary>Unknown worksheet, unknown field, a value that is not allowed.</summary>
    public const int BadInput = 2;

    /// <summary>The worksheet gives no number for these values, and says why.</summary>
    public const int Refused = 3;

    public static Command Build()
    {
        var name = new Argument<string?>("NAME") { Description = "Name of the worksheet; --list shows them.", Arity = ArgumentArity.ZeroOrOne };
        var fields = new Argument<string[]>("key=value") { Description = "Fields, such as volume=20 or 'volume=5 gal'.", Arity = ArgumentArity.ZeroOrMore };
        var list = new Option<bool>("--list") { Description = "List every worksheet." };
        var json = new Option<bool>("--json") { Description = "As JSON." };
        var command = new Command("worksheet", "Compute for must, nutrients, stabilizing, sweetening or bottling. Ends with 2 when something given can't be read, with 3 when the worksheet refuses.") { name, fields, list, json };
        command.SetAction(parsed => Run(parsed.GetValue(name), parsed.GetValue(fields) ?? [], parsed.GetValue(list), parsed.GetValue(json), Console.Out, Console.Error));
        return command;
    }

    internal static int Run(string? name, IReadOnlyList<string> given, bool list, bool json, TextWriter output, TextWriter error)
    {
        if (list && name is null)
        {
            output.Write(json ? WorksheetJson.Catalog().ToJsonString(WorksheetJson.Readable) + Environment.NewLine : WorksheetPlainText.Catalog());
            return 0;
        }

        if (name is null)
        {
            error.WriteLine("NAME is missing; it must be the name of a worksheet: fermentwatch worksheet --list shows them.");
            return BadInput;
        }

        if (WorksheetCatalog.Find(name) is not { } sheet)
        {
            error.WriteLine($"NAME is {name}; it must be one of {string.Join(", ", WorksheetCatalog.All.Select(one => one.Name))}.");
            return BadInput;
        }

        if (list || (given.Count == 0 && sheet.Inputs.Any(input => !input.IsOptional)))
        {
            output.Write(json ? WorksheetJson.Entry(sheet).ToJsonString(WorksheetJson.Readable) + Environment.NewLine : WorksheetPlainText.Entry(sheet));
            return list ? 0 : Missing(sheet, error);
        }

        return Compute(sheet, given, json, output, error);
    }

    private static int Missing(Worksheet sheet, TextWriter error)
    {
        error.WriteLine($"No fields were given; {sheet.Name} needs {string.Join(", ", sheet.Inputs.Where(input => !input.IsOptional).Select(input => input.Key))}.");
        return BadInput;
    }

    private static int Compute(Worksheet sheet, IReadOnlyList<string> given, bool json, TextWriter output, TextWriter error)
    {
        var fields = new Dictionary<string, string>(StringComparer.Ordinal);
        var faults = new List<string>();
        foreach (var pair in given)
        {
            var equals = pair.IndexOf('=', StringComparison.Ordinal);
            if (equals <= 0)
            {
                faults.Add($"{pair} is not a field with its value; write it as key=value, such as {sheet.Inputs[0].Key}=...");
            }
            else if (!fields.TryAdd(pair[..equals].Trim(), pair[(equals + 1)..].Trim()))
            {
                faults.Add($"{pair[..equals].Trim()} is given more than once.");
            }
        }

        var outcome = sheet.Run(fields);
        if (faults.Count > 0 || outcome.Answer is not { } answer)
        {
            foreach (var sentence in faults.Concat(outcome.Faults.Select(fault => fault.Sentence)))
            {
                error.WriteLine(sentence);
            }

            return BadInput;
        }

        output.Write(json ? WorksheetJson.Answer(sheet, answer).ToJsonString(WorksheetJson.Readable) + Environment.NewLine : WorksheetPlainText.Answer(sheet, answer));
        return answer.IsRefusal ? Refused : 0;
    }
}
