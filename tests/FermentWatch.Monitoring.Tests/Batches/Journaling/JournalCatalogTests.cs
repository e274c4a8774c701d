using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Batches.Journaling;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Batches.Journaling;

public sealed class JournalCatalogTests
{
    [Fact]
    public void EveryKind_HasOneEntryUnderAKeyOfItsOwn()
    {
        Assert.Equal(Enum.GetValues<JournalKind>().Order(), JournalCatalog.All.Select(entry => entry.Kind).Order());
        Assert.Equal(JournalCatalog.All.Count, JournalCatalog.All.Select(entry => entry.Key).Distinct().Count());
        Assert.Equal(41, JournalCatalog.All.Count);
    }

    [Fact]
    public void OneTap_NeedsNothingTyped() => Assert.All(
        JournalCatalog.All.Where(entry => entry.IsOneTap), entry => Assert.Empty(JournalForm.Read(entry, _ => "").Faults));

    [Theory]
    [InlineData("1.012", 1.012, null)]
    [InlineData("1,012", 1.012, null)]
    [InlineData("1012", null, FieldFault.OutOfRange)]
    [InlineData("1.0.12", null, FieldFault.NoNumber)]
    [InlineData("NaN", null, FieldFault.NoNumber)]
    [InlineData("", null, FieldFault.Missing)]
    public void GravityTyped_IsReadOrNamedAsFault(string typed, double? expected, FieldFault? fault)
    {
        var read = JournalForm.Read(JournalCatalog.Of(JournalKind.ForcedTest), name => name == "gravity" ? typed : "");
        Assert.Equal(fault, read.Faults.TryGetValue("gravity", out var found) ? found : null);
        Assert.Equal(expected, read.Gravity?.Value);
    }

    // 1.040 at 30 °C by a hydrometer made for 20 °C is 1.04275: row hydrometer_temperature-009 of the density tests' reference data.
    [Fact]
    public void WarmSample_IsCorrectedToTwentyDegrees()
    {
        string Typed(string name) => name switch { "gravity" => "1.040", "sample-temperature" => "30", "instrument" => "hydrometer-20", _ => "" };
        Assert.InRange(JournalForm.Read(JournalCatalog.Of(JournalKind.MeasuredByHand), Typed).Gravity!.Value.Value, 1.04270, 1.04280);
    }

    [Fact]
    public void InstrumentAlone_IsNoReading() => Assert.NotEmpty(
        JournalForm.Read(JournalCatalog.Of(JournalKind.MeasuredByHand), name => name == "instrument" ? "hydrometer-20" : "").Faults);
}
