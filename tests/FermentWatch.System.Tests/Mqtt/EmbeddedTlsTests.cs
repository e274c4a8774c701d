using System.Security.Cryptography.X509Certificates;
using FermentWatch.Infrastructure.Mqtt;
using FermentWatch.Service.Configuration;
using FermentWatch.System.Tests.Configuration;
using Xunit;

namespace FermentWatch.System.Tests.Mqtt;

/// <summary>Encrypted connections to the embedded broker, made by mosquitto_pub.</summary>
public sealed class EmbeddedTlsTests : IDisposable
{
    private readonly TestAuthority _authority = new();
    private readonly string _folder = Directory.CreateTempSubdirectory("fermentwatch-tls-").FullName;

    private static DateTimeOffset Now => DateTimeOffset.UtcNow;

    public void Dispose()
    {
        _authority.Dispose();
        Directory.Delete(_folder, recursive: true);
    }

    [Theory]
    [InlineData("key beside")]
    [InlineData("key in the file")]
    [InlineData("encrypted key")]
    [InlineData("pfx")]
    [InlineData("pfx without password")]
    public async Task CertificateInAnyForm_TakesEncryptedMessagesBesidePlainOnes(string form)
    {
        var (certificate, problem) = Load(form);
        Assert.True(certificate is not null, problem);
        var tlsPort = FreePort.Take();
        await using var fixture = await EmbeddedFixture.StartAsync(new EmbeddedBrokerOptions { Certificate = certificate, TlsPort = tlsPort });

        var (exit, complaint) = await Mosquitto.PublishAsync(tlsPort, "--cafile", File("ca.pem"), "-q", "1", "-t", "cellar/x", "-m", "encrypted");
        Assert.True(exit == 0, complaint);
        (exit, complaint) = await Mosquitto.PublishAsync(fixture.Port, "-q", "1", "-t", "cellar/x", "-m", "plain");
        Assert.True(exit == 0, complaint);

        Assert.Equal(["encrypted", "plain"], fixture.Probe.Messages.Select(message => global::System.Text.Encoding.UTF8.GetString(message.Payload.Span)));
    }

    [Fact]
    public async Task ClientThatDoesNotTrustUsOrSpeaksPlain_IsNotServedAndOthersAre()
    {
        var (certificate, _) = Load("key beside");
        var tlsPort = FreePort.Take();
        await using var fixture = await EmbeddedFixture.StartAsync(new EmbeddedBrokerOptions { Certificate = certificate, TlsPort = tlsPort });
        using var other = new TestAuthority();
        other.Write(File("other.pem"));

        Assert.NotEqual(0, (await Mosquitto.PublishAsync(tlsPort, "--cafile", File("other.pem"), "-q", "1", "-t", "cellar/x", "-m", "1")).ExitCode);
        Assert.NotEqual(0, (await Mosquitto.PublishAsync(tlsPort, "-q", "1", "-t", "cellar/x", "-m", "1")).ExitCode);
        Assert.Equal(0, (await Mosquitto.PublishAsync(tlsPort, "--cafile", File("ca.pem"), "-q", "1", "-t", "cellar/x", "-m", "2")).ExitCode);

        Assert.Single(fixture.Probe.Messages);
    }

    [Fact]
    public async Task TakenTlsPort_IsNamedAndThePlainPortIsFreeAgain()
    {
        var (certificate, _) = Load("key beside");
        await using var first = await EmbeddedFixture.StartAsync();
        var options = new EmbeddedBrokerOptions { Certificate = certificate, TlsPort = first.Port, Port = FreePort.Take() };
        await using var second = new EmbeddedBroker(
            options, InboxProbe.Interest("cellar/#"), first.Probe.RecordAsync, first.Probe.ConfirmAsync, TimeProvider.System, Microsoft.Extensions.Logging.Abstractions.NullLogger.Instance);

        var failure = await Assert.ThrowsAsync<BrokerStartException>(() => second.StartAsync(TestContext.Current.CancellationToken));

        Assert.Equal(first.Port, failure.Port);
        Assert.False(Mosquitto.Answers(options.Port));
    }

    [Theory]
    [InlineData("pfx with a wrong password", "cannot be read as a certificate with its key")]
    [InlineData("encrypted key without password", "If it has a password, give that too.")]
    [InlineData("without key", "cannot be read as a certificate with its key")]
    [InlineData("expired", "ended on")]
    [InlineData("nothing", "certificate")]
    public void CertificateThatIsNoUse_IsExplained(string form, string said)
    {
        var (certificate, problem) = Load(form);

        Assert.Null(certificate);
        Assert.Contains(said, problem, StringComparison.Ordinal);
        Assert.DoesNotContain("grape-must", problem, StringComparison.Ordinal);
    }

    [Fact]
    public void CertificateOfTheConfiguration_IsRead()
    {
        using var data = new TemporaryDataDirectory("""{ "Broker": { "Embedded": { "CertificateFile": "broker.pem", "KeyFile": "broker.key", "TlsPort": 8884 } } }""");
        _authority.WriteFiles(data.Location);

        var result = data.Load();

        Assert.Empty(result.Errors);
        Assert.Equal(8884, result.Settings!.Broker.Embedded.TlsPort);
        Assert.NotNull(result.Settings.Broker.Embedded.Certificate);
        Assert.Equal(BrokerMode.Embedded, result.Settings.Broker.Mode);
    }

    private string File(string name) => Path.Combine(_folder, name);

    private (BrokerCertificate? Certificate, string? Problem) Load(string form)
    {
        _authority.WriteFiles(_folder, expired: form == "expired");
        using var whole = X509Certificate2.CreateFromPemFile(File("broker.pem"), File("broker.key"));
        switch (form)
        {
            case "key in the file":
                global::System.IO.File.AppendAllText(File("broker.pem"), "\n" + global::System.IO.File.ReadAllText(File("broker.key")));
                return BrokerCertificate.Load(File("broker.pem"), null, null, Now);
            case "encrypted key" or "encrypted key without password":
                using (var key = whole.GetECDsaPrivateKey()!)
                {
                    global::System.IO.File.WriteAllText(File("broker.key"), key.ExportEncryptedPkcs8PrivateKeyPem("grape-must", new(global::System.Security.Cryptography.PbeEncryptionAlgorithm.Aes256Cbc, global::System.Security.Cryptography.HashAlgorithmName.SHA256, 1000)));
                }

                return BrokerCertificate.Load(File("broker.pem"), File("broker.key"), form == "encrypted key" ? "grape-must" : null, Now);
            case "pfx" or "pfx with a wrong password" or "pfx without password":
                global::System.IO.File.WriteAllBytes(File("broker.pfx"), whole.Export(X509ContentType.Pfx, form == "pfx without password" ? null : "grape-must"));
                return BrokerCertificate.Load(File("broker.pfx"), null, form == "pfx" ? "grape-must" : form == "pfx without password" ? null : "plum", Now);
            case "without key":
                return BrokerCertificate.Load(File("broker.pem"), null, null, Now);
            case "nothing":
                global::System.IO.File.WriteAllText(File("empty"), "not a certificate");
                return BrokerCertificate.Load(File("empty"), null, null, Now);
            default:
                return BrokerCertificate.Load(File("broker.pem"), File("broker.key"), null, Now);
        }
    }
}
