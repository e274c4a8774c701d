namespace FermentWatch.Monitoring.Batches;

/// <summary>The codes of reasons that a view can carry; the service's resource files hold one text for each.</summary>
public static class ReasonCodes
{
    /// <summary>Away from its neighbors, which agree. {0} how far from them.</summary>
    public const string SetAsideSpike = "set-aside-spike";

    /// <summary>Lifted for hours by foam, bubbles or stirring, then back. {0} length of the spell.</summary>
    public const string SetAsideFoam = "set-aside-foam";

    /// <summary>No must, wine or mead has this gravity.</summary>
    public const string SetAsideImpossible = "set-aside-impossible";

    /// <summary>Read before the yeast went in. {0} when it went in.</summary>
    public const string SetAsideBeforeInoculation = "set-aside-before-inoculation";

    /// <summary>The vessel was being handled: the readings made no sense for a while. {0} length of the spell.</summary>
    public const string SetAsideHandling = "set-aside-handling";

    /// <summary>Sugar had just come in and was not yet mixed. {0} length of the spell.</summary>
    public const string SetAsideMixing = "set-aside-mixing";

    /// <summary>The device lay further from the points of its calibration than the curve can be trusted.</summary>
    public const string SetAsideBeyondCalibration = "set-aside-beyond-calibration";

    /// <summary>Gravity jumped at once and went on as before: a knock or a racking. {0} size; later readings are moved back by it.</summary>
    public const string EventStep = "event-step";

    /// <summary>Gravity rose by so much that sugar must have been added. {0} size.</summary>
    public const string EventSugarFound = "event-sugar-found";

    /// <summary>Readings lifted by foam, bubbles or stirring from here. {0} length of the spell.</summary>
    public const string EventFoam = "event-foam";

    /// <summary>Readings made no sense from here, as when a vessel is racked. {0} length of the spell.</summary>
    public const string EventHandling = "event-handling";

    /// <summary>Readings uneven from here, since sugar that came in was not yet mixed. {0} length of the spell.</summary>
    public const string EventMixing = "event-mixing";

    /// <summary>The sensor's gravity follows its temperature. {0} by how much for a degree Celsius; {1} to which its readings are brought.</summary>
    public const string EventTemperatureEffect = "event-temperature-effect";

    /// <summary>The sensor stood off from a reading by hand, and its readings are moved. {0} by how much.</summary>
    public const string EventAnchored = "event-anchored";

    /// <summary>Sensor and hand lie too far apart for both to be right; nothing is moved. {0} by how much.</summary>
    public const string EventNotAnchored = "event-not-anchored";

    /// <summary>The sample by hand is said to hold gas; nothing is moved. {0} by how much they lie apart.</summary>
    public const string EventNotAnchoredGas = "event-not-anchored-gas";

    /// <summary>No gravity reading yet.</summary>
    public const string PhaseUnknownNoReadings = "phase-unknown-no-readings";

    /// <summary>No gravity reading for too long. {0} how long ago the last one was.</summary>
    public const string PhaseUnknownSilent = "phase-unknown-silent";

    /// <summary>Readings come, but those of late had to be set aside. {0} the last one kept.</summary>
    public const string PhaseUnknownSetAside = "phase-unknown-set-aside";
}
