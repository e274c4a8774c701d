using FermentWatch.Infrastructure.Notifiers;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Service.Configuration;

namespace FermentWatch.Service.Personal;

/// <summary>A field of a channel. Its label is the text <c>KIND-NAME</c>, what to write there <c>KIND-NAME-hint</c>, what is wrong <c>KIND-NAME-fault</c>.</summary>
/// <param name="Name">Lower-case words joined by hyphens.</param>
/// <param name="IsSecret">Never shown again: left empty it stays as it is.</param>
/// <param name="IsNeeded">Whether the channel works only with it.</param>
/// <param name="Fits">Whether this can be its value; asked for what is not empty.</param>
public sealed record ChannelField(string Name, bool IsSecret, bool IsNeeded, Func<string, bool> Fits);

/// <summary>What the house has that a person's channel may need.</summary>
/// <param name="Mail">The house's mail server; null when none is set up.</param>
/// <param name="Relay">The house's relay, whose wording of notices others take over; null when none is set up.</param>
/// <param name="Outgoing">Where requests may go.</param>
/// <param name="Clock">For dates and waits.</param>
public sealed record ChannelHouse(MailSettings? Mail, RelayChannel? Relay, OutgoingRules Outgoing, TimeProvider Clock)
{
    /// <summary>Who the house is to push services; made when it is first needed.</summary>
    public Lazy<PushIdentity> Push { get; init; } = new(() => PushIdentity.Of(PushIdentity.NewKey()));

    /// <summary>Where whoever sends pushes can be reached; null where the house has no https address.</summary>
    public string? PushSubject { get; init; }

    /// <summary>Where requests for a person may go: what this machine runs for itself is a maker's business alone.</summary>
    public OutgoingRules OutgoingOf(Person owner)
    {
        ArgumentNullException.ThrowIfNull(owner);
        return Outgoing with { ThisMachine = Outgoing.ThisMachine && owner.Role == Role.Maker };
    }
}

/// <summary>A kind of channel that a person can set up. One file for each, one line in <see cref="PersonalChannelCatalog"/>, its texts.</summary>
public abstract class PersonalChannelKind
{
    /// <summary>Lower-case word, part of the channel's name and of the keys of its texts.</summary>
    public abstract string Id { get; }

    /// <summary>What has to be filled in, in order.</summary>
    public abstract IReadOnlyList<ChannelField> Fields { get; }

    /// <summary>Whether the house has what it needs.</summary>
    public abstract bool IsOffered(ChannelHouse house);

    /// <summary>The channel, from checked values.</summary>
    /// <param name="name">Name of the channel.</param>
    /// <param name="values">Values by the fields' names; what was left empty is missing.</param>
    /// <param name="owner">Whose it is.</param>
    /// <param name="house">What the house has.</param>
    public abstract INotifier Build(string name, IReadOnlyDictionary<string, string> values, Person owner, ChannelHouse house);

    /// <summary>What its owner may see of it, without any secret, such as the host of a relay.</summary>
    public abstract string Shown(IReadOnlyDictionary<string, string> values);
}

/// <summary>Every kind of channel that a person can set up, in the order in which they are shown.</summary>
public static class PersonalChannelCatalog
{
    /// <summary>The kinds.</summary>
    public static IReadOnlyList<PersonalChannelKind> All { get; } = [new RelayChannelKind(), new MailChannelKind(), new PushChannelKind(), new WebhookChannelKind()];
}
