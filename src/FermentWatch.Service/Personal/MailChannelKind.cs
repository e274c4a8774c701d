using FermentWatch.Infrastructure.Notifiers;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Configuration;

namespace FermentWatch.Service.Personal;

/// <summary>Letters to a person's own address, through the house's mail server.</summary>
public sealed class MailChannelKind : PersonalChannelKind
{
    /// <inheritdoc/>
    public override string Id => "mail";

    /// <inheritdoc/>
    public override IReadOnlyList<ChannelField> Fields { get; } = [new("address", IsSecret: false, IsNeeded: true, text => text.Length <= 254 && MailReading.Address(text).Ok)];

    /// <inheritdoc/>
    public override bool IsOffered(ChannelHouse house)
    {
        ArgumentNullException.ThrowIfNull(house);
        return house.Mail is not null;
    }

    /// <inheritdoc/>
    public override INotifier Build(string name, IReadOnlyDictionary<string, string> values, Person owner, ChannelHouse house)
    {
        ArgumentNullException.ThrowIfNull(values);
        ArgumentNullException.ThrowIfNull(house);
        var server = house.Mail ?? throw new InvalidOperationException("Letters need a mail server.");
        return new MailNotifier(server with { Channel = name, To = ValueList.Of<string>(values["address"]) }, house.Clock);
    }

    /// <inheritdoc/>
    public override string Shown(IReadOnlyDictionary<string, string> values)
    {
        ArgumentNullException.ThrowIfNull(values);
        return values["address"];
    }
}
