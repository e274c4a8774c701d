namespace FermentWatch.Oenology.Limits;

/// <summary>A caution that is shown where the work can hurt: a name and the sentence. Local law and licensed practice always come first.</summary>
/// <param name="Code">Its name, for tests and translations.</param>
/// <param name="Text">The sentence.</param>
public sealed record Caution(string Code, string Text)
{
    /// <summary>Bottles under pressure.</summary>
    public static Caution BottlePressure { get; } = new(
        "bottle-pressure",
        "Never bottle sugar that can ferment in a still bottle: bottles burst. From degassed wine at 12 % vol and 20 °C, 3 g/L that referment give about 1.3 bar, 8 g/L about 2.9, 15 g/L about 5.2; at 30 °C about 40 % more; from wine full of gas, 1 bar or more with no sugar at all. No number shown here makes a bottle hold.");

    /// <summary>Opening a bottle under pressure.</summary>
    public static Caution OpeningBottle { get; } = new(
        "opening-bottle",
        "Open a bottle under pressure cold and unshaken, tilted 45° away from people, a towel and a hand over the cork, the wire last: flying corks and glass have blinded people.");

    /// <summary>What sorbate can't do.</summary>
    public static Caution Sorbate { get; } = new(
        "sorbate",
        "Sorbate does not stop an active ferment, does nothing to bacteria and needs free sulfite beside it. With living malolactic bacteria it makes a geranium taint that never leaves.");

    /// <summary>Sulfite and people.</summary>
    public static Caution Sulfite { get; } = new(
        "sulfite",
        "Sulfite can cause severe reactions in some people with asthma: say it on the label from 10 mg/L. Powder and acid release a choking gas: work in moving air, never mix sulfite into acid or chlorine, and stay under the total limit of your law.");

    /// <summary>Carbon dioxide in rooms.</summary>
    public static Caution CarbonDioxide { get; } = new(
        "carbon-dioxide",
        "Carbon dioxide gives no warning and gathers low. 20 L at 250 g/L sugar in a closed room of 30 m³ reach about 4.5 %, above the 4 % that is immediately dangerous to life. Air the room before you go in, and never go in alone to help someone lying there.");

    /// <summary>What a steady hydrometer proves.</summary>
    public static Caution SteadyHydrometer { get; } = new(
        "steady-hydrometer",
        "A steady gravity does not prove that a wine is stable: degas, repeat over at least two weeks and test for sugar before bottling.");

    /// <summary>Measure and try first.</summary>
    public static Caution MeasureFirst { get; } = new(
        "measure-first",
        "Measure free sulfite, pH and titratable acidity before dosing, and try every acid, carbonate or tannin addition on a measured sample first.");

    /// <summary>Law.</summary>
    public static Caution LocalLaw { get; } = new(
        "local-law",
        "The limits are those for trade; your local law and licensed practice come first. In many places home-made wine may not be sold.");

    /// <summary>How little few tasters prove.</summary>
    public static Caution FewTasters { get; } = new(
        "few-tasters",
        "Three or four tasters reach significance in a triangle test only if everyone is right, and no significant result is no proof of sameness.");

    /// <summary>Alcohol served.</summary>
    public static Caution AlcoholServed { get; } = new(
        "alcohol-served",
        "Tasting serves alcohol: small pours, spit cup and water, nobody who must not drink, and no driving after it.");

    /// <summary>Powder into gassy must.</summary>
    public static Caution Foam { get; } = new(
        "foam",
        "Powder into a gassy must erupts: degas first, dissolve the powder, add it slowly and leave headspace.");

    /// <summary>Carbonates foam.</summary>
    public static Caution CarbonateFoam { get; } = new(
        "carbonate-foam",
        "Carbonates foam in wine: stir them in a little at a time, in a vessel with plenty of headspace.");

    /// <summary>Acids.</summary>
    public static Caution Acid { get; } = new(
        "acid",
        "Concentrated acid burns skin and eyes: gloves and glasses, acid into water and never the other way round.");

    /// <summary>Glass vessels.</summary>
    public static Caution GlassVessel { get; } = new(
        "glass-vessel",
        "A full glass carboy is never carried by its neck, and hot water cracks cold glass.");

    /// <summary>Cleaners.</summary>
    public static Caution Cleaners { get; } = new(
        "cleaners",
        "Never bring chlorine cleaners together with acid or sulfite: they release poisonous gas.");

    /// <summary>Honey and infants.</summary>
    public static Caution HoneyInfants { get; } = new(
        "honey-infants",
        "No honey for infants under one year.");

    /// <summary>Every caution.</summary>
    public static IReadOnlyList<Caution> All { get; } =
    [
        BottlePressure, OpeningBottle, Sorbate, Sulfite, CarbonDioxide, SteadyHydrometer, MeasureFirst, LocalLaw, FewTasters, AlcoholServed,
        Foam, CarbonateFoam, Acid, GlassVessel, Cleaners, HoneyInfants,
    ];
}
