using System.Text.RegularExpressions;
using FermentWatch.Monitoring.Forecasting;

namespace FermentWatch.Monitoring.Tests.Forecasting;

/// <summary>A nonlinear regression problem of the NIST Statistical Reference Datasets.</summary>
internal sealed partial class CertifiedProblem : LeastSquaresProblem
{
    private static readonly Dictionary<string, Func<double[], double[], double>> Models = new()
    {
        ["Misra1a"] = (b, x) => b[0] * (1 - Math.Exp(-b[1] * x[0])),
        ["Misra1c"] = (b, x) => b[0] * (1 - Math.Pow(1 + (2 * b[1] * x[0]), -0.5)),
        ["Misra1d"] = (b, x) => b[0] * b[1] * x[0] / (1 + (b[1] * x[0])),
        ["Chwirut1"] = (b, x) => Math.Exp(-b[0] * x[0]) / (b[1] + (b[2] * x[0])),
        ["Chwirut2"] = (b, x) => Math.Exp(-b[0] * x[0]) / (b[1] + (b[2] * x[0])),
        ["DanWood"] = (b, x) => b[0] * Math.Pow(x[0], b[1]),
        ["Eckerle4"] = (b, x) => b[0] / b[1] * Math.Exp(-0.5 * Math.Pow((x[0] - b[2]) / b[1], 2)),
        ["BoxBOD"] = (b, x) => b[0] * (1 - Math.Exp(-b[1] * x[0])),
        ["MGH10"] = (b, x) => b[0] * Math.Exp(b[1] / (x[0] + b[2])),
        ["Rat42"] = (b, x) => b[0] / (1 + Math.Exp(b[1] - (b[2] * x[0]))),
        ["Bennett5"] = (b, x) => b[0] * Math.Pow(b[1] + x[0], -1 / b[2]),
        ["Kirby2"] = (b, x) => (b[0] + (b[1] * x[0]) + (b[2] * x[0] * x[0])) / (1 + (b[3] * x[0]) + (b[4] * x[0] * x[0])),
        ["Hahn1"] = (b, x) => (b[0] + (x[0] * (b[1] + (x[0] * (b[2] + (x[0] * b[3])))))) / (1 + (x[0] * (b[4] + (x[0] * (b[5] + (x[0] * b[6])))))),
        ["ENSO"] = (b, x) => b[0] + Wave(b[1], b[2], 12, x[0]) + Wave(b[4], b[5], b[3], x[0]) + Wave(b[7], b[8], b[6], x[0]),
        ["Gauss1"] = Peaks,
        ["Gauss3"] = Peaks,
        ["Nelson"] = (b, x) => b[0] - (b[1] * x[0] * Math.Exp(-b[2] * x[1])),
        ["Lanczos1"] = Decays,
        ["Lanczos2"] = Decays,
        ["Lanczos3"] = Decays,
    };

    private readonly Func<double[], double[], double> _model;
    private readonly double[] _b;
    private readonly double[] _y;
    private readonly double[][] _x;

    public CertifiedProblem(string name)
    {
        _model = Models[name];
        var lines = File.ReadAllLines(ReferenceFiles.PathOf("nist-strd", name + ".dat"));
        var rows = lines.Select(line => ParameterRow().Match(line)).Where(m => m.Success).ToArray();
        FarStart = [.. rows.Select(m => ReferenceFiles.Number(m.Groups[1].Value))];
        NearStart = [.. rows.Select(m => ReferenceFiles.Number(m.Groups[2].Value))];
        Certified = [.. rows.Select(m => ReferenceFiles.Number(m.Groups[3].Value))];
        CertifiedDeviations = [.. rows.Select(m => ReferenceFiles.Number(m.Groups[4].Value))];
        _b = new double[rows.Length];
        var data = lines.Skip(60)
            .Select(line => line.Split(' ', StringSplitOptions.RemoveEmptyEntries))
            .Where(fields => fields.Length > 1)
            .Select(fields => fields.Select(ReferenceFiles.Number).ToArray())
            .ToArray();
        _y = [.. data.Select(d => name == "Nelson" ? Math.Log(d[0]) : d[0])];
        _x = [.. data.Select(d => d[1..])];
    }

    public static IEnumerable<string> Names => Models.Keys;

    public double[] FarStart { get; }

    public double[] NearStart { get; }

    public double[] Certified { get; }

    public double[] CertifiedDeviations { get; }

    public override int ParameterCount => _b.Length;

    public override int RowCount => _y.Length;

    public override void Residuals(ReadOnlySpan<double> parameters, Span<double> residuals)
    {
        parameters.CopyTo(_b);
        for (var i = 0; i < _y.Length; i++)
        {
            residuals[i] = _model(_b, _x[i]) - _y[i];
        }
    }

    private static double Wave(double cosine, double sine, double period, double x) =>
        (cosine * Math.Cos(2 * Math.PI * x / period)) + (sine * Math.Sin(2 * Math.PI * x / period));

    private static double Decays(double[] b, double[] x) =>
        (b[0] * Math.Exp(-b[1] * x[0])) + (b[2] * Math.Exp(-b[3] * x[0])) + (b[4] * Math.Exp(-b[5] * x[0]));

    private static double Peaks(double[] b, double[] x) =>
        (b[0] * Math.Exp(-b[1] * x[0]))
        + (b[2] * Math.Exp(-Math.Pow((x[0] - b[3]) / b[4], 2)))
        + (b[5] * Math.Exp(-Math.Pow((x[0] - b[6]) / b[7], 2)));

    [GeneratedRegex(@"^\s*b\d+\s*=\s*(\S+)\s+(\S+)\s+(\S+)\s+(\S+)")]
    private static partial Regex ParameterRow();
}
