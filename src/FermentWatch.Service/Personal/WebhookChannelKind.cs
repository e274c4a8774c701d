using FermentWatch.Infrastructure.Notifiers;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Service.Configuration;

namespace FermentWatch.Service.Personal;

/// <summary>A person's own program that takes signed JSON. Its address may hold a secret, so it is kept as one.</summary>
public sealed class WebhookChannelKind : PersonalChannelKind
{
    /// <inheritdoc/>
    public override string Id => "webhook";

    /// <inheritdoc/>
    public override IReadOnlyList<ChannelField> Fields { get; } =
    [
        new("address", IsSecret: true, IsNeeded: true, text => text.Length <= 1000 && SettingReaders.WebAddress(text).Ok),
        new("secret", IsSecret: true, IsNeeded: true, text => text.Length >= WebhookSettings.ShortestSecret && SettingReaders.Token(text).Ok),
    ];

    /// <inheritdoc/>
    public override bool IsOffered(ChannelHouse house) => true;

    /// <inheritdoc/>
    public override INotifier Build(string name, IReadOnlyDictionary<string, string> values, Person owner, ChannelHouse house)
    {
        ArgumentNullException.ThrowIfNull(values);
        ArgumentNullException.ThrowIfNull(house);
        return new WebhookNotifier(new WebhookSettings(name, new Uri(values["address"]), values["secret"]), house.OutgoingOf(owner), house.Clock);
    }

    /// <inheritdoc/>
    public override string Shown(IReadOnlyDictionary<string, string> values)
    {
        ArgumentNullException.ThrowIfNull(values);
        return new Uri(values["address"]).Authority;
    }
}
