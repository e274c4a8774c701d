using FermentWatch.Infrastructure.Notifiers;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Service.Configuration;

namespace FermentWatch.Service.Personal;

/// <summary>A person's own topic at a push relay. Address and topic are secrets: who knows them reads the notices.</summary>
public sealed class RelayChannelKind : PersonalChannelKind
{
    /// <inheritdoc/>
    public override string Id => "relay";

    /// <inheritdoc/>
    public override IReadOnlyList<ChannelField> Fields { get; } =
    [
        new("address", IsSecret: true, IsNeeded: true, text => text.Length <= 1000 && SettingReaders.WebAddress(text).Ok),
        new("topic", IsSecret: true, IsNeeded: false, text => text.Length <= 200 && text.All(letter => char.IsAsciiLetterOrDigit(letter) || letter is '-' or '_' or '.' or '~')),
        new("token", IsSecret: true, IsNeeded: false, text => SettingReaders.Token(text).Ok),
    ];

    /// <inheritdoc/>
    public override bool IsOffered(ChannelHouse house) => true;

    /// <inheritdoc/>
    public override INotifier Build(string name, IReadOnlyDictionary<string, string> values, Person owner, ChannelHouse house)
    {
        ArgumentNullException.ThrowIfNull(values);
        ArgumentNullException.ThrowIfNull(owner);
        ArgumentNullException.ThrowIfNull(house);
        var plain = new RelaySettings { Url = AddressOf(values), BearerToken = values.GetValueOrDefault("token"), Channel = name };
        return new RelayNotifier(
            plain with { Body = house.Relay?.Template ?? plain.Body, Priorities = house.Relay?.Priorities ?? plain.Priorities },
            house.OutgoingOf(owner),
            house.Clock);
    }

    /// <inheritdoc/>
    public override string Shown(IReadOnlyDictionary<string, string> values) => AddressOf(values).Authority;

    private static Uri AddressOf(IReadOnlyDictionary<string, string> values)
    {
        var address = new UriBuilder(values["address"]);
        if (values.TryGetValue("topic", out var topic))
        {
            address.Path = address.Path.TrimEnd('/') + "/" + topic;
        }

        return address.Uri;
    }
}
