using FermentWatch.Oenology.Limits;

namespace FermentWatch.Oenology.Worksheets;

/// <summary>A computation for the maker: fields, results, sources, cautions and worked examples as data, and one pure function.</summary>
/// <remarks>Command, API, form and reference come from this entry, so a formula exists once.</remarks>
public sealed record Worksheet
{
    /// <summary>Its name in commands and addresses: lower case, words joined by hyphens.</summary>
    public required string Name { get; init; }

    /// <summary>What it belongs to.</summary>
    public required WorksheetSubject Subject { get; init; }

    /// <summary>Its title.</summary>
    public required string Title { get; init; }

    /// <summary>What it answers, in one or two sentences, with the limits of what it can know.</summary>
    public required string Purpose { get; init; }

    /// <summary>Fields in the order in which they are asked.</summary>
    public required IReadOnlyList<WorksheetInput> Inputs { get; init; }

    /// <summary>Results in the order in which they are shown.</summary>
    public required IReadOnlyList<WorksheetOutput> Outputs { get; init; }

    /// <summary>Where the numbers come from; at least one.</summary>
    public required IReadOnlyList<WorksheetSource> Sources { get; init; }

    /// <summary>What can hurt, shown beside the results. Empty only where nothing can.</summary>
    public required IReadOnlyList<Caution> Cautions { get; init; }

    /// <summary>Worked examples, run by the tests and shown as help; at least one.</summary>
    public required IReadOnlyList<WorkedExample> Examples { get; init; }

    /// <summary>The computation. Values are inside their ranges; it may leave by a fault of <see cref="WorksheetValues"/>.</summary>
    public required Func<WorksheetValues, WorksheetAnswer> Compute { get; init; }

    /// <summary>Reads what was typed and computes.</summary>
    /// <param name="given">Key and text of each field; a field with only white space counts as empty.</param>
    /// <returns>An answer, or every fault that was found in the fields.</returns>
    public WorksheetOutcome Run(IReadOnlyDictionary<string, string> given)
    {
        ArgumentNullException.ThrowIfNull(given);
        var faults = new List<InputFault>();
        var values = new Dictionary<string, object>(StringComparer.Ordinal);
        foreach (var key in given.Keys.Where(key => Inputs.All(input => input.Key != key)).Order(StringComparer.Ordinal))
        {
            faults.Add(new InputFault(key, given[key], $"{key} is not a field of {Name}; it has {string.Join(", ", Inputs.Select(input => input.Key))}."));
        }

        foreach (var input in Inputs)
        {
            var text = given.GetValueOrDefault(input.Key, string.Empty);
            if (string.IsNullOrWhiteSpace(text))
            {
                text = input.UsualText ?? string.Empty;
            }

            if (text.Length == 0)
            {
                if (!input.IsOptional)
                {
                    faults.Add(new InputFault(input.Key, string.Empty, $"{new FieldName(input.Key)} is missing; it must be {input.AllowedWords}."));
                }
            }
            else if (input.Read(text) is { } value)
            {
                values[input.Key] = value;
            }
            else
            {
                faults.Add(new InputFault(input.Key, text, $"{new FieldName(input.Key)} is {text}; it must be {input.AllowedWords}."));
            }
        }

        return faults.Count > 0 ? new WorksheetOutcome(null, faults) : Outcome(values);
    }

    private WorksheetOutcome Outcome(Dictionary<string, object> values)
    {
        try
        {
            return new WorksheetOutcome(Compute(new WorksheetValues(values)), []);
        }
        catch (InputFaultException exception)
        {
            return new WorksheetOutcome(null, [exception.Fault]);
        }
    }
}
