namespace FermentWatch.Infrastructure.Mqtt;

/// <summary>Reason codes of a broker's status, in the order in which a connection comes about.</summary>
public static class BrokerProblems
{
    /// <summary>The host name is not known. {0} host.</summary>
    public const string NameNotFound = "broker-name-not-found";

    /// <summary>Nothing listens there. {0} host, {1} port.</summary>
    public const string ConnectionRefused = "broker-connection-refused";

    /// <summary>No way to that host. {0} host, {1} port.</summary>
    public const string Unreachable = "broker-unreachable";

    /// <summary>No answer in time. {0} host, {1} port.</summary>
    public const string NoAnswer = "broker-no-answer";

    /// <summary>The file with the certificate authority cannot be read. {0} file, {1} what is wrong.</summary>
    public const string AuthorityFile = "broker-authority-file";

    /// <summary>The broker's certificate is not signed by the authority. {0} host.</summary>
    public const string CertificateUntrusted = "broker-certificate-untrusted";

    /// <summary>The broker's certificate is for another name. {0} host, {1} names in the certificate.</summary>
    public const string CertificateName = "broker-certificate-name";

    /// <summary>The broker's certificate is not valid now. {0} first day, {1} last day.</summary>
    public const string CertificateDate = "broker-certificate-date";

    /// <summary>No encrypted connection came about: the port may not speak TLS. {0} host, {1} port.</summary>
    public const string TlsFailed = "broker-tls-failed";

    /// <summary>What answers does not speak MQTT as we do. {0} host, {1} port.</summary>
    public const string NotMqtt = "broker-not-mqtt";

    /// <summary>User name or password is wrong. {0} user name.</summary>
    public const string Credentials = "broker-credentials-refused";

    /// <summary>This user or client may not connect. {0} user name, {1} client id.</summary>
    public const string NotAuthorized = "broker-not-authorized";

    /// <summary>The client id was refused. {0} client id.</summary>
    public const string ClientIdRefused = "broker-client-id-refused";

    /// <summary>The broker is busy or shutting down. {0} its own reason.</summary>
    public const string Busy = "broker-busy";

    /// <summary>Refused for another reason. {0} the reason's name.</summary>
    public const string Refused = "broker-refused";

    /// <summary>A subscription was refused. {0} topic filter, {1} the reason's name.</summary>
    public const string SubscriptionRefused = "broker-subscription-refused";

    /// <summary>A trial may not publish to its own topic. {0} topic, {1} the reason's name.</summary>
    public const string PublishRefused = "broker-publish-refused";

    /// <summary>A trial was granted its subscription, and yet its own message was not passed on to it. {0} topic.</summary>
    public const string NothingPassedOn = "broker-nothing-passed-on";

    /// <summary>Our message to ourselves did not come back. {0} topic.</summary>
    public const string EchoMissing = "broker-echo-missing";

    /// <summary>The connection broke. {0} the broker's reason or the network's.</summary>
    public const string ConnectionLost = "broker-connection-lost";

    /// <summary>The link is there, but nothing comes back over it. {0} how long.</summary>
    public const string Silent = "broker-silent";

    /// <summary>Another program connects with our client id, or seems to: the broker closes our connections soon after each begins. {0} client id.</summary>
    public const string ClientIdTaken = "broker-client-id-taken";

    /// <summary>The store cannot take messages; the broker keeps them. {0} what the store says.</summary>
    public const string StorageUnavailable = "broker-storage-unavailable";

    /// <summary>Something unexpected, written to the log. {0} kind of error.</summary>
    public const string Unexpected = "broker-unexpected";
}
