using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>What a person may do. Stored by number, higher includes lower: never renumber.</summary>
public enum Role
{
    /// <summary>Reads the pages.</summary>
    Viewer = 1,

    /// <summary>Reads the pages and tastes.</summary>
    Taster = 2,

    /// <summary>Everything.</summary>
    Maker = 3,
}

/// <summary>Somebody who may sign in.</summary>
/// <param name="Id">Number in the store.</param>
/// <param name="Name">As written by whoever made the entry, 1 to 40 characters.</param>
/// <param name="Role">What they may do.</param>
/// <param name="HasPassword">False until the invitation was used.</param>
/// <param name="IsDisabled">True for somebody who may not sign in any more.</param>
public sealed record Person(long Id, string Name, Role Role, bool HasPassword, bool IsDisabled);

/// <summary>A browser that is signed in.</summary>
/// <param name="Key">Hash of what its cookie holds.</param>
/// <param name="Person">Who.</param>
/// <param name="Begun">Since when.</param>
/// <param name="LastSeen">Last request, to the hour.</param>
/// <param name="Browser">As the browser names itself, at most 200 characters.</param>
public sealed record SignIn(string Key, Person Person, ReceivedAt Begun, ReceivedAt LastSeen, string Browser);

/// <summary>A device that may send readings.</summary>
/// <param name="Id">Number in the store.</param>
/// <param name="Name">Its name and its user name at the broker: 1 to 40 of a to z, digits and hyphens.</param>
/// <param name="KeyHash">SHA-256 of its key in hexadecimal digits.</param>
/// <param name="Prefix">It may publish to this topic and those below.</param>
/// <param name="Created">Since when.</param>
public sealed record Device(long Id, string Name, string KeyHash, string Prefix, ReceivedAt Created);
