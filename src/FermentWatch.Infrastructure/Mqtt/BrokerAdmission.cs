namespace FermentWatch.Infrastructure.Mqtt;

/// <summary>Who may come in to the embedded broker, and to which topics they may publish. Asked on every greeting and every message, so that a change counts at once.</summary>
/// <param name="Admits">Whether a client with this user name and password may come in; both are null for one that gives none.</param>
/// <param name="MayPublish">Whether a client with this user name may publish to this topic.</param>
public sealed record BrokerAdmission(Func<string?, byte[]?, bool> Admits, Func<string?, string, bool> MayPublish);
