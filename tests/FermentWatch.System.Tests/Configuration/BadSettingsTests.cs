using System.Globalization;
using FermentWatch.Service.Configuration;
using Xunit;

namespace FermentWatch.System.Tests.Configuration;

/// <summary>
/// One file of Bad/ for each mistake; beside it a text file: every line must stand in an error, a line that begins with '!' must stand in none.
/// </summary>
public sealed class BadSettingsTests
{
    private static readonly string Folder = Path.Combine(AppContext.BaseDirectory, "Configuration", "Bad");

    public static TheoryData<string> Files => [.. Directory.GetFiles(Folder, "*.json").Select(file => Path.GetFileNameWithoutExtension(file)).Order(StringComparer.Ordinal)];

    [Theory]
    [MemberData(nameof(Files))]
    public void BadFile_IsRefusedWithWordsThatHelp(string name)
    {
        using var data = new TemporaryDataDirectory(File.ReadAllText(Path.Combine(Folder, name + ".json")));
        var result = data.Load();
        Assert.Null(result.Settings);
        var lines = File.ReadAllLines(Path.Combine(Folder, name + ".txt"));
        Assert.Contains(lines, line => !line.StartsWith('!'));
        foreach (var line in lines)
        {
            if (line.StartsWith("! ", StringComparison.Ordinal))
            {
                Assert.DoesNotContain(result.Errors.Concat(result.Warnings), error => error.Contains(line[2..], StringComparison.OrdinalIgnoreCase));
            }
            else
            {
                Assert.True(
                    result.Errors.Any(error => error.Contains(line, StringComparison.Ordinal)),
                    string.Create(CultureInfo.InvariantCulture, $"'{line}' stands in none of:\n{string.Join('\n', result.Errors)}"));
            }
        }
    }

    [Fact]
    public void EverySetting_HasABadFile()
    {
        var expected = string.Join('\n', Directory.GetFiles(Folder, "*.txt").SelectMany(File.ReadAllLines));
        foreach (var setting in SettingCatalog.All)
        {
            Assert.Contains(setting.KeyAt(0, 0), expected, StringComparison.Ordinal);
        }

        Assert.True(Files.Count >= 40, $"Only {Files.Count} bad files.");
    }

    [Fact]
    public void OneMistake_IsToldOnce()
    {
        // Files with one mistake give one error: what follows from a mistake is not told again.
        foreach (var name in new[] { "page-zone", "batch-inoculated", "topic-unit-of-another-quantity", "topic-filter", "batch-band-low", "relay-url", "broker-external-host", "broker-external-user" })
        {
            using var data = new TemporaryDataDirectory(File.ReadAllText(Path.Combine(Folder, name + ".json")));
            Assert.Single(data.Load().Errors);
        }
    }
}
