using FermentWatch.Benchmarks.Alerts;
using FermentWatch.Benchmarks.Cost;
using FermentWatch.Benchmarks.Ferments;
using FermentWatch.Benchmarks.Ingest;
using FermentWatch.Benchmarks.Pages;

// Ratios measured in one run: absolute rates depend on the machine.
return args switch
{
    [] or ["ingest"] => await IngestFigure.RunAsync(),
    ["alerts", ..] => AlertFigures.Run(args),
    ["cost"] => await CostFigure.RunAsync(),
    ["ferments", ..] => FermentFolders.Run(args),
    ["naive", ..] => NaiveFigure.Run(args),
    ["pages", ..] => await PagesFigure.RunAsync(args),
    ["picture", ..] => CasePicture.Run(args),
    _ => Unknown(args[0]),
};

static int Unknown(string name)
{
    Console.Error.WriteLine($"Unknown figure '{name}': choose alerts, cost, ferments, ingest, naive, pages or picture.");
    return 2;
}
