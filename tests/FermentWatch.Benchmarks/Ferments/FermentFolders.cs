using System.Collections.Concurrent;
using System.Globalization;
using FermentWatch.Simulation;

namespace FermentWatch.Benchmarks.Ferments;

/// <summary>Writes simulated ferments as recordings with their truth, for <c>fermentwatch backtest FOLDER --score</c>.</summary>
internal static class FermentFolders
{
    private static readonly FermentFamily[] Families = Enum.GetValues<FermentFamily>();

    /// <summary>ferments FOLDER --count N --seed S --structure cells|transporters [--injected]: N ferments, the families in turn; injected ones have spells of heat and cold and silences.</summary>
    public static int Run(string[] arguments)
    {
        string Option(string name, string otherwise) =>
            Array.IndexOf(arguments, name) is var at and >= 0 && at + 1 < arguments.Length ? arguments[at + 1] : otherwise;
        var structure = Option("--structure", "cells") switch
        {
            "cells" => KineticStructure.Cells,
            "transporters" => KineticStructure.Transporters,
            _ => (KineticStructure)0,
        };
        if (arguments.Length < 2 || structure == 0
            || !int.TryParse(Option("--count", "36"), NumberStyles.None, CultureInfo.InvariantCulture, out var count)
            || !int.TryParse(Option("--seed", "1"), NumberStyles.None, CultureInfo.InvariantCulture, out var seed))
        {
            Console.Error.WriteLine("ferments FOLDER [--count N] [--seed S] [--structure cells|transporters] [--injected]");
            return 2;
        }

        var folder = arguments[1];
        var isInjected = arguments.Contains("--injected");
        var families = new ConcurrentBag<string>();
        Parallel.For(0, count, i =>
        {
            var family = Families[i % Families.Length];
            var name = string.Create(CultureInfo.InvariantCulture, $"{(structure == KineticStructure.Cells ? 'c' : 't')}{seed + i:00000}");
            var scenario = FamilyDraw.Of(family, structure, seed + i);
            var injection = isInjected ? new Injection(scenario, (FermentFolder.LowCelsius, FermentFolder.HighCelsius), seed + i) : null;
            var ferment = FermentSimulator.Run(injection?.Scenario ?? scenario, seed + i);
            new FermentFolder(name, family, ferment, seed + i, injection).Write(Path.Combine(folder, name));
            families.Add(family.ToString());
        });
        Console.WriteLine($"{families.Count} ferments in {folder}");
        return 0;
    }
}
