using FermentWatch.Infrastructure.Mqtt;
using Xunit;

namespace FermentWatch.System.Tests.Mqtt;

public sealed class BrokerTlsTests : IDisposable
{
    private readonly TestAuthority _authority = new();
    private readonly string _folder = Directory.CreateTempSubdirectory("fermentwatch-tls-").FullName;

    private string AuthorityFile => Path.Combine(_folder, "authority.pem");

    public void Dispose()
    {
        _authority.Dispose();
        Directory.Delete(_folder, recursive: true);
    }

    [Theory]
    [InlineData(MqttVersionChoice.Version311)]
    [InlineData(MqttVersionChoice.Version5)]
    public async Task PrivateAuthority_IsTrustedAndMessagesCome(MqttVersionChoice choice)
    {
        await using var broker = await StartAsync();
        await using var fixture = await ExternalFixture.ConnectAsync(Options(broker) with { Version = choice });

        await Mosquitto.PublishAsync(broker.Port, "--cafile", AuthorityFile, "-q", "1", "-t", "cellar/x", "-m", "1");

        await fixture.CountsAsync(1);
    }

    [Fact]
    public async Task AnotherAuthority_IsNotTrusted()
    {
        await using var broker = await StartAsync();
        using var other = new TestAuthority();
        other.Write(AuthorityFile);
        await using var fixture = ExternalFixture.Start(Options(broker));

        await fixture.ComesToAsync(BrokerConnectionState.Refused, BrokerProblems.CertificateUntrusted);
    }

    [Fact]
    public async Task NoAuthority_LeavesAPrivateOneUntrusted()
    {
        await using var broker = await StartAsync();
        await using var fixture = ExternalFixture.Start(Options(broker) with { AuthorityFile = null });

        await fixture.ComesToAsync(BrokerConnectionState.Refused, BrokerProblems.CertificateUntrusted);
    }

    [Fact]
    public async Task CertificateForAnotherName_IsSaid()
    {
        await using var broker = await StartAsync(nameMatches: false);
        await using var fixture = ExternalFixture.Start(Options(broker));

        await fixture.ComesToAsync(BrokerConnectionState.Refused, BrokerProblems.CertificateName);
        Assert.Equal(["127.0.0.1", "another.example"], fixture.ProblemValues);
    }

    [Fact]
    public async Task ExpiredCertificate_IsSaid()
    {
        await using var broker = await StartAsync(expired: true);
        await using var fixture = ExternalFixture.Start(Options(broker));

        await fixture.ComesToAsync(BrokerConnectionState.Refused, BrokerProblems.CertificateDate);
    }

    [Fact]
    public async Task PortWithoutTls_IsSaid()
    {
        await using var broker = await Mosquitto.StartAsync();
        await using var fixture = ExternalFixture.Start(Options(broker) with { AuthorityFile = null });

        await fixture.ComesToAsync(BrokerConnectionState.WaitingToReconnect, BrokerProblems.TlsFailed);
    }

    [Theory]
    [InlineData(null)]
    [InlineData("not a certificate")]
    public async Task UnreadableAuthorityFile_IsNamed(string? content)
    {
        if (content is not null)
        {
            await File.WriteAllTextAsync(AuthorityFile, content, TestContext.Current.CancellationToken);
        }

        await using var fixture = ExternalFixture.Start(ExternalFixture.Options(FreePort.Take()) with { UseTls = true, AuthorityFile = AuthorityFile });

        await fixture.ComesToAsync(BrokerConnectionState.Refused, BrokerProblems.AuthorityFile);
        Assert.Equal(AuthorityFile, fixture.ProblemValues[0]);
    }

    private async Task<Mosquitto> StartAsync(bool nameMatches = true, bool expired = false)
    {
        _authority.Write(AuthorityFile);
        return await Mosquitto.StartAsync(persistence: false, folder => _authority.WriteFiles(folder, nameMatches, expired), "allow_anonymous true");
    }

    private ExternalBrokerOptions Options(Mosquitto broker) => ExternalFixture.Options(broker.Port) with { UseTls = true, AuthorityFile = AuthorityFile };
}
