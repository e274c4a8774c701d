using System.Text.Json;

namespace FermentWatch.Oenology.BenchTrials;

/// <summary>The stored form of a bench trial.</summary>
public static class BenchTrialJson
{
    /// <summary>Writes a trial.</summary>
    public static string Write(BenchTrial trial)
    {
        ArgumentNullException.ThrowIfNull(trial);
        return JsonSerializer.Serialize(trial);
    }

    /// <summary>Reads a trial.</summary>
    /// <exception cref="FormatException">Not a trial, or of a newer form than this program knows.</exception>
    public static BenchTrial Read(string json)
    {
        try
        {
            var trial = JsonSerializer.Deserialize<BenchTrial>(json, Options) ?? throw new FormatException("A stored bench trial is empty.");
            return trial.Version <= BenchTrial.CurrentVersion
                ? trial
                : throw new FormatException($"The stored bench trial has version {trial.Version}; this program knows versions up to {BenchTrial.CurrentVersion}.");
        }
        catch (JsonException exception)
        {
            throw new FormatException($"A stored bench trial cannot be read: {exception.Message}", exception);
        }
    }

    // A list that is missing must fail here and not later.
    private static readonly JsonSerializerOptions Options = new() { RespectRequiredConstructorParameters = true, RespectNullableAnnotations = true };
}
