using System.Buffers.Text;
using FermentWatch.Infrastructure.Notifiers;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Service.Configuration;

namespace FermentWatch.Service.Personal;

/// <summary>A person's browser, through its own push service. Its script fills the fields in; all three come from the browser.</summary>
public sealed class PushChannelKind : PersonalChannelKind
{
    /// <inheritdoc/>
    public override string Id => "push";

    /// <inheritdoc/>
    public override IReadOnlyList<ChannelField> Fields { get; } =
    [
        new("address", IsSecret: true, IsNeeded: true, text => text.Length <= 1000 && SettingReaders.WebAddress(text).Ok),
        new("key", IsSecret: true, IsNeeded: true, text => Bytes(text) is { } point && PushEncryption.IsKey(point)),
        new("secret", IsSecret: true, IsNeeded: true, text => Bytes(text)?.Length == PushEncryption.SecretLength),
    ];

    /// <inheritdoc/>
    public override bool IsOffered(ChannelHouse house) => true;

    /// <inheritdoc/>
    public override INotifier Build(string name, IReadOnlyDictionary<string, string> values, Person owner, ChannelHouse house)
    {
        ArgumentNullException.ThrowIfNull(values);
        ArgumentNullException.ThrowIfNull(house);
        var browser = new PushSubscription(name, new Uri(values["address"]), Bytes(values["key"])!, Bytes(values["secret"])!);
        return new PushNotifier(browser, house.Push.Value, house.PushSubject, house.OutgoingOf(owner), house.Clock);
    }

    /// <inheritdoc/>
    public override string Shown(IReadOnlyDictionary<string, string> values)
    {
        ArgumentNullException.ThrowIfNull(values);
        return new Uri(values["address"]).Authority;
    }

    private static byte[]? Bytes(string text) => text.Length <= 200 && Base64Url.IsValid(text) ? Base64Url.DecodeFromChars(text) : null;
}
