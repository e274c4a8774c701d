using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Dashboard.Listening;
using Xunit;

namespace FermentWatch.System.Tests.Dashboard;

public sealed class ListeningTextTests
{
    [Fact]
    public void EveryQuantityUnitAndPlacement_HasWords()
    {
        Assert.All(Enum.GetValues<QuantityKind>(), quantity => Assert.NotEmpty(ListeningText.Of(quantity)));
        Assert.All(Enum.GetValues<Placement>(), placement => Assert.NotEmpty(ListeningText.Of(placement)));
        Assert.All(Enum.GetValues<MeasurementUnit>(), unit => Assert.NotEmpty(HeardTopic.Word(unit)));
    }
}
