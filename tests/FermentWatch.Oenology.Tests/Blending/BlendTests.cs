using FermentWatch.Oenology.Blending;
using FermentWatch.Oenology.Quantities;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;

namespace FermentWatch.Oenology.Tests.Blending;

public sealed class BlendTests
{
    // What is dissolved is neither lost nor made: grams before are grams after.
    [Property(MaxTest = 300)]
    public Property WhatIsDissolved_IsKept() => Prop.ForAll(
        Numbers.Between(0.1, 100).ToArbitrary(),
        Numbers.Between(0, 12).ToArbitrary(),
        Numbers.Between(0, 200).ToArbitrary(),
        (liters, acid, sulfite) =>
        {
            var (one, other) = (new BlendPart(Wine(liters, 0.993, 13), acid, sulfite / 3, sulfite, acid), new BlendPart(Wine(10, 1.01, 9), 6, 20, 90, 30));
            var after = Blend.Of(one, other);
            bool Kept(Func<BlendPart, double> read) => Math.Abs(
                (read(after) * after.Liquid.Volume.Liters) - (read(one) * one.Liquid.Volume.Liters) - (read(other) * other.Liquid.Volume.Liters)) < 1e-6;
            return Kept(part => part.TitratableAcidity) && Kept(part => part.FreeSulfite) && Kept(part => part.TotalSulfite) && Kept(part => part.SugarGramsPerLiter)
                && Math.Abs(after.Liquid.Kilograms - one.Liquid.Kilograms - other.Liquid.Kilograms) < 1e-9
                && Math.Abs(after.Liquid.EthanolKilograms - one.Liquid.EthanolKilograms - other.Liquid.EthanolKilograms) < 1e-9;
        });

    [Property(MaxTest = 200)]
    public Property OrderAndGrouping_DoNotMatter() => Prop.ForAll(
        Numbers.Between(0.1, 50).ToArbitrary(),
        Numbers.Between(0, 15).ToArbitrary(),
        (liters, percent) =>
        {
            var (a, b, c) = (Part(liters, 0.995, percent), Part(7, 1.02, 11), Part(3, 1.05, 4));
            var (all, grouped) = (Blend.Of(a, b, c), Blend.Of(c, Blend.Of(b, a)));
            return Math.Abs(all.Liquid.Volume.Liters - grouped.Liquid.Volume.Liters) < 1e-9
                && Math.Abs(all.Liquid.Alcohol.Percent - grouped.Liquid.Alcohol.Percent) < 1e-9
                && Math.Abs(all.TitratableAcidity - grouped.TitratableAcidity) < 1e-9;
        });

    [Property(MaxTest = 200)]
    public Property MoreOfTheStronger_IsStronger() => Prop.ForAll(
        Numbers.Between(0.1, 50).ToArbitrary(),
        Numbers.Between(0.1, 10).ToArbitrary(),
        (liters, more) => Blend.Of(Part(liters + more, 0.99, 15), Part(10, 0.995, 9)).Liquid.Alcohol > Blend.Of(Part(liters, 0.99, 15), Part(10, 0.995, 9)).Liquid.Alcohol);

    // The square and the dilution, put back into the mean they come from.
    [Property(MaxTest = 300)]
    public Property PartsOfTheSquare_GiveTheTarget() => Prop.ForAll(
        Numbers.Between(0, 40).ToArbitrary(),
        Numbers.Between(0.01, 40).ToArbitrary(),
        Numbers.Between(0, 1).ToArbitrary(),
        (poor, gap, share) =>
        {
            var (rich, target) = (poor + gap, poor + (share * gap));
            var parts = PearsonSquare.Parts(rich, poor, target)!.Value;
            return Math.Abs((((parts.Rich * rich) + (parts.Poor * poor)) / (parts.Rich + parts.Poor)) - target) < 1e-9;
        });

    [Property(MaxTest = 300)]
    public Property DilutedOvershoot_HoldsWhatIsWanted() => Prop.ForAll(
        Numbers.Between(0.05, 50).ToArbitrary(),
        Numbers.Between(0, 5).ToArbitrary(),
        Numbers.Between(0.01, 5).ToArbitrary(),
        (liters, ofBase, above) =>
        {
            var (wanted, present) = (ofBase + above, ofBase + (2.5 * above));
            var added = PearsonSquare.LitersToDilute(Volume.FromLiters(liters), present, wanted, ofBase)!.Value;
            return Math.Abs((((liters * present) + (added * ofBase)) / (liters + added)) - wanted) < 1e-9;
        });

    [Fact]
    public void WhatCantBeBlended_Throws()
    {
        Assert.Throws<ArgumentException>(() => Blend.Of());
        Assert.Throws<ArgumentException>(() => Blend.Of(default(BlendPart)));
        Assert.Null(PearsonSquare.LitersToDilute(Volume.FromLiters(1), 4, 2, 2));
        Assert.Null(PearsonSquare.LitersToDilute(Volume.FromLiters(1), 1, 2, 0));
    }

    private static BlendPart Part(double liters, double gravity, double alcohol) => new(Wine(liters, gravity, alcohol), alcohol / 2);

    private static Liquid Wine(double liters, double gravity, double alcohol) =>
        Liquid.Of(Volume.FromLiters(liters), SpecificGravity.FromRatio(gravity), AlcoholByVolume.FromPercent(alcohol));
}
