using System.Net;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Configuration;
using Xunit;

namespace FermentWatch.System.Tests.Configuration;

public sealed class SettingsLoaderTests
{
    [Fact]
    public void NothingGiven_Starts()
    {
        using var data = new TemporaryDataDirectory(null);
        var result = data.Load();
        Assert.Empty(result.Errors);
        Assert.Empty(result.Warnings);
        var settings = result.Settings!;
        Assert.Null(settings.ConfigurationFile);
        Assert.Equal(data.Location, settings.DataDirectory);
        Assert.Equal(new PageSettings(new Uri("http://127.0.0.1:5080"), string.Empty, null, TimeZoneInfo.Local, string.Empty), settings.Page);
        Assert.Equal(new BrokerSettings(BrokerMode.Embedded, new EmbeddedBrokerSettings(IPAddress.Loopback, 1883), null), settings.Broker);
        Assert.Empty(settings.Topics);
        Assert.Empty(settings.Batches);
        Assert.Null(settings.Relay);
        Assert.Equal(new AlertFigures(new TimeOnly(22, 0), new TimeOnly(8, 0), 3, TimeSpan.FromHours(2), 12, TimeSpan.FromHours(12)), settings.Alerts);
        Assert.Equal(new RetentionSettings(14, 256), settings.Retention);
    }

    [Fact]
    public void DataDirectoryThatDoesNotExist_IsNoError() =>
        Assert.Empty(SettingsLoader.Load(Path.Combine(Path.GetTempPath(), Path.GetRandomFileName()), new Dictionary<string, string?>(), new Dictionary<string, string?>()).Errors);

    [Fact]
    public void FileWithEverything_IsRead()
    {
        using var data = new TemporaryDataDirectory(Good("everything"));
        var result = data.Load();
        Assert.Empty(result.Errors);
        Assert.Empty(result.Warnings);
        var settings = result.Settings!;
        Assert.Equal(Path.Combine(data.Location, "fermentwatch.json"), settings.ConfigurationFile);
        Assert.Equal("/cellar", settings.Page.PathBase);
        Assert.Equal("Europe/Berlin", settings.Page.Zone.Id);
        Assert.Equal(
            new ExternalBrokerSettings("broker.example.org", 8883, "fermentwatch", "correct horse battery staple", true, null, "fermentwatch-attic"),
            settings.Broker.External);
        Assert.Equal(3, settings.Topics.Count);
        Assert.Equal(MeasurementUnit.DegreesFahrenheit, settings.Topics[0].Fields[1].Unit);
        Assert.Equal(new TimeMapping(JsonPointer.Parse("/at"), TimeFormat.UnixSeconds), settings.Topics[0].Time);
        Assert.Null(settings.Topics[1].Fields[0].Source);
        var plum = settings.Batches[0];
        Assert.Equal(22.5, plum.Volume!.Value.Liters);
        Assert.Equal(1.092, plum.OriginalGravity!.Value.Value);
        Assert.Equal("2026-09-20T16:30:00Z", plum.InoculatedAt.ToString());
        Assert.Equal(24, plum.TemperatureBand!.High.Celsius);
        Assert.Equal(14, plum.Tolerance!.Value.Percent);
        Assert.Equal(plum.InoculatedAt, plum.Sensors[0].From);
        Assert.Equal(Placement.InLiquid, plum.Sensors[0].Placement);
        Assert.Equal(FermentKind.Mead, settings.Batches[1].Kind);
        Assert.Equal(["1", "2", "4", "5"], settings.Relay!.Priorities!);
        Assert.Equal(TimeSpan.FromMinutes(90), settings.Alerts.TemperatureAtLeast);
        Assert.Equal(new RetentionSettings(30, 512), settings.Retention);
        Assert.DoesNotContain("horse", settings.ToString(), StringComparison.Ordinal);
        Assert.DoesNotContain("secret", settings.ToString(), StringComparison.Ordinal);
        Assert.DoesNotContain("2f9d0c1e", settings.ToString(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("nothing")]
    [InlineData("comments-and-commas")]
    public void SmallFile_IsRead(string name)
    {
        using var data = new TemporaryDataDirectory(Good(name));
        Assert.Empty(data.Load().Errors);
    }

    [Fact]
    public void CommandLine_WinsOverEnvironment_WinsOverFile()
    {
        using var data = new TemporaryDataDirectory("""{ "Page": { "CellarName": "file" }, "Retention": { "InboxDays": 7, "InboxMegabytes": 32 } }""");
        var settings = data.Load(
            new Dictionary<string, string?>
            {
                ["FERMENTWATCH__PAGE__CELLARNAME"] = "environment",
                ["FERMENTWATCH__Retention__InboxDays"] = "8",
                ["FERMENTWATCH__Topics__0__Sensor"] = "float",
                ["FERMENTWATCH__Topics__0__Filter"] = "float/gravity",
                ["FERMENTWATCH__Topics__0__Fields__0__Quantity"] = "gravity",
                ["FERMENTWATCH__Topics__0__Fields__0__Unit"] = "points",
                ["FERMENTWATCH__Page__PathBase"] = "",
                ["FERMENTWATCHER"] = "no setting of ours",
            },
            new Dictionary<string, string?> { ["page:cellarname"] = "command line" }).Settings!;
        Assert.Equal("command line", settings.Page.CellarName);
        Assert.Equal(new RetentionSettings(8, 32), settings.Retention);
        Assert.Equal("float", Assert.Single(settings.Topics).Sensor);
    }

    [Fact]
    public void MistakeInTheEnvironment_NamesTheVariable()
    {
        using var data = new TemporaryDataDirectory(null);
        var result = data.Load(
            new Dictionary<string, string?> { ["FERMENTWATCH__Page__Adress"] = "x", ["FERMENTWATCH__Relay__Token"] = "hunter2 attic", ["FERMENTWATCH__Relay__Url"] = "https://relay.example.org/t" },
            new Dictionary<string, string?> { ["Broker:Embedded:Port"] = "x" });
        Assert.Contains(result.Errors, error => error.Contains("Page:Adress (environment variable FERMENTWATCH__Page__Adress) is no setting; the nearest is Page:Address", StringComparison.Ordinal));
        Assert.Contains(result.Errors, error => error.Contains("Relay:Token (environment variable FERMENTWATCH__Relay__Token) cannot be used", StringComparison.Ordinal));
        Assert.Contains(result.Errors, error => error.Contains("Broker:Embedded:Port is 'x' (command line)", StringComparison.Ordinal));
        Assert.DoesNotContain(result.Errors, error => error.Contains("hunter2", StringComparison.Ordinal));
        Assert.Equal(2, SettingsResult.ExitCode);
    }

    [Fact]
    public void PasswordFile_GivesItsFirstLine()
    {
        using var data = new TemporaryDataDirectory("""{ "Broker": { "Mode": "external", "External": { "Host": "broker.example.org", "User": "fw", "PasswordFile": "secret.txt" } } }""");
        File.WriteAllText(Path.Combine(data.Location, "secret.txt"), "correct horse\r\nsecond line\n");
        var result = data.Load();
        Assert.Equal("correct horse", result.Settings!.Broker.External!.Password);
        Assert.Equal(1883, result.Settings.Broker.External.Port);
        Assert.Contains("in the clear", Assert.Single(result.Warnings), StringComparison.Ordinal);
    }

    [Fact]
    public void SensorThatNoTopicGives_IsWarnedOf()
    {
        using var data = new TemporaryDataDirectory(Good("everything").Replace("\"Sensor\": \"carboy oak\"", "\"Sensor\": \"carbov oak\"", StringComparison.Ordinal));
        var result = data.Load();
        Assert.Empty(result.Errors);
        Assert.Equal(2, result.Warnings.Count);
        Assert.Contains("Batches:0 has the sensor 'carbov oak'", result.Warnings[0], StringComparison.Ordinal);
    }

    [Fact]
    public void ConfigurationThatIsADirectory_IsSaid()
    {
        using var data = new TemporaryDataDirectory(null);
        Directory.CreateDirectory(Path.Combine(data.Location, "fermentwatch.json"));
        Assert.Contains("is a directory", Assert.Single(data.Load().Errors), StringComparison.Ordinal);
    }

    private static string Good(string name) => File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Configuration", "Good", name + ".json"));
}
