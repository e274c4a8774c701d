using FermentWatch.Oenology.Tests.Worksheets;

namespace FermentWatch.Oenology.Tests.Acidity;

/// <summary>What the worksheets of acid say and refuse, as a maker types it.</summary>
public sealed class AcidWorksheetTests
{
    private const string Wine = "volume=20 ph=3.6 titratable-acidity=5 drink=grape-wine acid=tartaric ";

    [Theory]
    [InlineData("wanted-acidity=6 wanted-ph=3.4", "wanted-acidity", "the only one of")]
    [InlineData("wanted-ph=3.4 acid-dose=1", "wanted-ph", "the only one of")]
    [InlineData("wanted-acidity=5", "wanted-acidity", "above the titratable acidity now")]
    [InlineData("wanted-ph=3.7", "wanted-ph", "below the pH now")]
    [InlineData("", "acid-dose", "is needed because neither")]
    [InlineData("acid-dose=1 trial-dose=1", "trial-ph", "is needed because a bench trial is given")]
    [InlineData("acid-dose=1 trial-ph=3.5", "trial-ph", "given together with trial-dose")]
    [InlineData("acid-dose=1 trial-dose=1 trial-ph=3.59", "trial-ph", "0.05 or more below the pH now")]
    public void WhatDoesNotFitTogether_IsNamed(string given, string field, string right)
    {
        var fault = SheetRun.Fault("acid-addition", Wine + given);
        Assert.Equal(field, fault.Field);
        Assert.Contains(right, fault.Sentence, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("acid=lactic-liquid acid-dose=1", "acid-strength")]
    [InlineData("acid=lactic-liquid acid-dose=1 acid-strength=88", "acid-density")]
    public void LiquidAcid_NeedsItsLabel(string given, string field) =>
        Assert.Equal(field, SheetRun.Fault("acid-addition", "volume=20 ph=3.6 titratable-acidity=5 drink=grape-wine " + given).Field);

    // pH 2.5 with 0.2 g/L cannot be: the free hydrogen ions alone, 3.2 mmol/L and more, count as 0.24.
    [Fact]
    public void PhAndAcidityThatContradict_AreAFaultOfTheAcidity() =>
        Assert.Equal("titratable-acidity", SheetRun.Fault("acid-dilution", "volume=10 water=1 ph=2.5 titratable-acidity=0.2 drink=mead").Field);

    [Theory]
    [InlineData("drink=mead", "weak-buffer")]
    [InlineData("drink=grape-wine", "change-not-composition")]
    public void Notices_SayWhatTheModelIs(string drink, string code) =>
        Assert.Contains(code, SheetRun.Notices("acid-addition", $"volume=20 ph=3.6 titratable-acidity=5 {drink} acid=tartaric acid-dose=1"));

    [Fact]
    public void LargeRise_WarnsAndOutOfTaste_Warns()
    {
        var codes = SheetRun.Notices("acid-addition", "volume=20 ph=3.4 titratable-acidity=8 drink=grape-wine acid=tartaric acid-dose=2.5");
        Assert.Contains("beyond-recommended", codes);
        Assert.Contains("outside-taste", codes);
        Assert.DoesNotContain("beyond-recommended", SheetRun.Notices("acid-addition", Wine + "acid-dose=1.9"));
        Assert.True(SheetRun.Answer("acid-addition", Wine + "acid-dose=4.1").IsRefusal);
        Assert.False(SheetRun.Answer("acid-addition", Wine + "acid-dose=4.0").IsRefusal);
    }

    [Fact]
    public void TrialOnTheWine_NarrowsTheError()
    {
        var without = SheetRun.Number("acid-addition", Wine + "acid-dose=1", "ph-after");
        var with = SheetRun.Number("acid-addition", Wine + "acid-dose=1 trial-dose=1 trial-ph=3.35", "ph-after");
        Assert.Equal(3.35, with.Value, 1e-9);
        Assert.True(with.Tolerance / (3.6 - with.Value) < without.Tolerance / (3.6 - without.Value));
        Assert.True(SheetRun.Number("acid-addition", Wine + "acid-dose=1 trial-dose=1 trial-ph=3.35", "trial-ratio").Value > 1);
    }

    // Twice the drop for twice the powder, whatever the unit of the volume: 5.28344 gal are 20 L.
    [Fact]
    public void VolumeInGallons_GivesTheSameMass() => Assert.Equal(
        SheetRun.Number("acid-addition", Wine + "acid-dose=1", "mass").Value,
        SheetRun.Number("acid-addition", (Wine + "acid-dose=1").Replace("volume=20", "'volume=5.28344104 gal'", StringComparison.Ordinal).Replace("'volume=", "volume='", StringComparison.Ordinal), "mass").Value,
        1e-6);

    [Fact]
    public void Deacidification_SaysWhereLittleSettlesAndWhatCalciumDoes()
    {
        const string Given = "volume=20 ph=3.2 titratable-acidity=8 fall=1 ";
        Assert.Contains("little-tartaric", SheetRun.Notices("deacidification", Given + "drink=mead"));
        Assert.Contains("calcium-tartrate", SheetRun.Notices("deacidification", Given + "drink=grape-wine carbonate=calcium-carbonate"));
        Assert.DoesNotContain("calcium-tartrate", SheetRun.Notices("deacidification", Given + "drink=grape-wine carbonate=potassium-carbonate"));
        Assert.Equal("fall", SheetRun.Fault("deacidification", "volume=20 ph=3.2 titratable-acidity=2 fall=2 drink=grape-wine").Field);
        Assert.True(SheetRun.Number("deacidification", Given + "drink=grape-wine carbonate=potassium-carbonate", "mass-most").Value
            < SheetRun.Number("deacidification", Given + "drink=grape-wine", "mass-most").Value);
    }

    // Potassium carbonate counts as the bicarbonate that binds as much acid: 2.5 g/L of it are 3.6, more than the recommended 2 and within 4.
    [Fact]
    public void CarbonateDose_IsHeldAgainstTheGuardRails()
    {
        const string Given = "volume=20 ph=3.0 titratable-acidity=14 drink=grape-wine ";
        Assert.Contains("beyond-recommended", SheetRun.Notices("deacidification", Given + "carbonate=potassium-carbonate fall=2.7"));
        Assert.True(SheetRun.Answer("deacidification", Given + "carbonate=calcium-carbonate fall=4.6").IsRefusal);
        Assert.False(SheetRun.Answer("deacidification", Given + "carbonate=calcium-carbonate fall=4.4").IsRefusal);
        Assert.DoesNotContain("beyond-recommended", SheetRun.Notices("deacidification", Given + "fall=1.4"));
    }

    [Fact]
    public void MoreMalicAcidThanTheAcidityHolds_IsAFault() =>
        Assert.Equal("titratable-acidity", SheetRun.Fault("malolactic-conversion", "malic-acid=12 ph=3.3 titratable-acidity=5 drink=grape-wine").Field);

    [Fact]
    public void BlendWithoutParts_IsAFault() => Assert.Equal("tartaric-parts", SheetRun.Fault("acid-blend", "volume=20 rise=1").Field);

    [Fact]
    public void MoreHoneyThanMust_IsAFault() => Assert.Equal("honey", SheetRun.Fault("honey-acidity", "volume=1 honey=2").Field);

    [Fact]
    public void GasInTheSample_IsSaid()
    {
        Assert.Contains("degas", SheetRun.Notices("titratable-acidity", "acidity=7 dissolved-gas=1.4"));
        Assert.DoesNotContain("degas", SheetRun.Notices("titratable-acidity", "acidity=7"));
    }
}
