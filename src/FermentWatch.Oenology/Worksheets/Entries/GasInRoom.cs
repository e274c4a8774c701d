using FermentWatch.Oenology.CarbonDioxide;
using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>Gas of a ferment in a room.</summary>
internal static class GasInRoom
{
    private static readonly NumberInput Sugar = new("fermentable-sugar", "Sugar that ferments", QuantityKind.SugarConcentration, 1, 500, Help: "Glucose and fructose of the must, together with every feeding.");
    private static readonly NumberInput Room = new("room", "Volume of the closed room", QuantityKind.RoomVolume, 0.1, 100000);
    private static readonly NumberInput Temperature = new("room-temperature", "Temperature of the room", QuantityKind.Temperature, -5, 40, Usual: 20);
    private static readonly NumberInput Days = new("days", "Days of the main ferment", QuantityKind.Days, 1, 120, Usual: 10);

    private static readonly NumberOutput Gas = new("gas", "Carbon dioxide in all", QuantityKind.Volume, 0);
    private static readonly NumberOutput Share = new("share", "Share of the room's air if all stayed", QuantityKind.Percent, 2);
    private static readonly NumberOutput Parts = new("parts-per-million", "the same in parts per million", QuantityKind.Count, 0);
    private static readonly NumberOutput Air = new("fresh-air", "Fresh air in an hour that keeps 5000 ppm on the busiest day", QuantityKind.RoomVolume, 1);
    private static readonly TextOutput Meaning = new("meaning", "What that means");

    /// <summary>The entry.</summary>
    public static Worksheet Sheet { get; } = new()
    {
        Name = "carbon-dioxide-in-room",
        Subject = WorksheetSubject.CarbonDioxide,
        Title = "Carbon dioxide in a room",
        Purpose = "How much gas a batch gives off, and what it makes of the air of a closed room. An upper bound; near the floor there is more than the mean. No figure replaces a gas alarm. An oxygen meter does not warn: at 40000 ppm it still shows 20 %.",
        Inputs = [GasFields.Volume, Sugar, Room, Temperature, Days],
        Outputs = [Gas, Share, Parts, Air, Meaning],
        Sources =
        [
            WorksheetSource.Computed("stoichiometry from the standard atomic masses, ideal gas"),
            WorksheetSource.Published("OSHA", "5000 ppm for a working day"),
            WorksheetSource.Published("ACGIH", "30000 ppm for fifteen minutes"),
            WorksheetSource.Published("NIOSHIDLH", "40000 ppm, immediately dangerous to life"),
            WorksheetSource.CommonPractice("twice the mean on the busiest day"),
        ],
        Cautions = [Caution.CarbonDioxide],
        Examples =
        [
            WorkedExample.Of("volume=20 fermentable-sugar=250 room=30", "computed by a second program from the atomic masses", new("gas", 1335, 10), new("parts-per-million", 44508, 500)),
            WorkedExample.Saying("volume=20 fermentable-sugar=250 room=30", "NIOSH: 40000 ppm is immediately dangerous to life", "immediate-danger"),
            WorkedExample.Saying("volume=5 fermentable-sugar=220 room=12", "OSHA: 5000 ppm for a working day", "working-day"),
        ],
        Compute = Compute,
    };

    private static WorksheetAnswer Compute(WorksheetValues values)
    {
        var gas = FermentationGas.VolumeOf(values.Volume(GasFields.Volume), SugarConcentration.FromGramsPerLiter(values.Of(Sugar)), values.Temperature(Temperature), Pressure.Atmosphere);
        var parts = FermentationGas.PartsPerMillion(gas.Value, values.Of(Room));
        var level = ExposureLevel.Reached(parts);
        Phrase meaning = level is null ? "below the limit for a working day of eight hours, 5000 ppm; near the floor there can be more" : level.Text;
        return new(
            [
                Gas.Is(gas, volume => volume.Liters),
                Share.Is(parts / 10_000, parts / 10_000 * gas.Tolerance / Math.Max(1, gas.Value.Liters)),
                Parts.Is(parts),
                Air.Is(FermentationGas.FreshAirCubicMetersPerHour(gas.Value, values.Of(Days), ExposureLevel.WorkingDay.PartsPerMillion)),
                Meaning.Is(meaning),
            ],
            level is null
                ? [WorksheetNotice.Note("below-levels", $"{parts:F0} ppm if all the gas stayed in the room: {meaning}. Air it all the same.")]
                : [WorksheetNotice.Warning(level.Code, $"{parts:F0} ppm if all the gas stayed in the room: {meaning}. Air it all the time, low down.")]);
    }
}
