namespace FermentWatch.Simulation;

/// <summary>Courses that a drawn ferment is meant to take; what becomes of it the kinetics decide.</summary>
public enum FermentFamily
{
    /// <summary>A wine that ends dry.</summary>
    WineDry = 1,

    /// <summary>A mead with nutrient in two to four portions.</summary>
    MeadStaggered = 2,

    /// <summary>A strong mead whose yeast gives up with sugar left.</summary>
    MeadTolerance = 3,

    /// <summary>A cider of low gravity.</summary>
    CiderLow = 4,

    /// <summary>A room that swings from day to night.</summary>
    Diurnal = 5,

    /// <summary>A must with little nitrogen.</summary>
    StuckNutrient = 6,

    /// <summary>A room that turns cold for good.</summary>
    StuckCold = 7,

    /// <summary>A room that turns cold and is warmed again.</summary>
    RestartWarm = 8,

    /// <summary>Sugar or honey in one to three portions.</summary>
    StepFeed = 9,
}
