namespace PostPipeline.Studies;

/// <summary>Where two ways of doing a thing cost the same. Prices are the caller's.</summary>
public static class BreakEvens
{
    /// <summary>What an hour recorded costs in a pipeline: its node-hours, and the storage of what they make.</summary>
    /// <param name="nodeHours">Node-hours for an hour recorded.</param>
    /// <param name="perNodeHour">Price of a node-hour.</param>
    /// <param name="terabytes">TB made for an hour recorded.</param>
    /// <param name="months">How long they are kept.</param>
    /// <param name="perTerabyteMonth">Price of a TB for a month.</param>
    public static decimal PerRecordedHour(decimal nodeHours, decimal perNodeHour, decimal terabytes, decimal months, decimal perTerabyteMonth) =>
        (nodeHours * perNodeHour) + (terabytes * months * perTerabyteMonth);

    /// <summary>Recorded hours above which the cheaper-by-the-hour pipeline is worth its fixed cost.</summary>
    /// <param name="dearerPerHour">The pipeline that costs more an hour, and nothing beside.</param>
    /// <param name="cheaperPerHour">The one that costs less an hour.</param>
    /// <param name="fixedCost">What it costs beside: conform and risk.</param>
    /// <exception cref="ArgumentOutOfRangeException">The second is not cheaper an hour: they never meet.</exception>
    public static decimal RecordedHours(decimal dearerPerHour, decimal cheaperPerHour, decimal fixedCost) =>
        cheaperPerHour < dearerPerHour
            ? fixedCost / (dearerPerHour - cheaperPerHour)
            : throw new ArgumentOutOfRangeException(nameof(cheaperPerHour), cheaperPerHour, $"The second costs {cheaperPerHour} an hour; allowed is less than the first, {dearerPerHour}.");

    /// <summary>What owning a node costs a month, whether it runs or not.</summary>
    /// <param name="price">What it costs.</param>
    /// <param name="resale">What it is worth at the end.</param>
    /// <param name="months">Over how many months.</param>
    /// <param name="roomPerMonth">Room.</param>
    /// <param name="upkeepPerMonth">Upkeep.</param>
    public static decimal OwningPerMonth(decimal price, decimal resale, decimal months, decimal roomPerMonth, decimal upkeepPerMonth) =>
        ((price - resale) / months) + roomPerMonth + upkeepPerMonth;

    /// <summary>Hours a month above which owning a node is cheaper than renting one.</summary>
    /// <param name="owningPerMonth">See <see cref="OwningPerMonth"/>.</param>
    /// <param name="energyPerHour">Energy of an own node, an hour.</param>
    /// <param name="rentPerHour">Rent, an hour.</param>
    /// <exception cref="ArgumentOutOfRangeException">Rent is not above energy: renting is always cheaper.</exception>
    public static decimal HoursAMonth(decimal owningPerMonth, decimal energyPerHour, decimal rentPerHour) =>
        rentPerHour > energyPerHour
            ? owningPerMonth / (rentPerHour - energyPerHour)
            : throw new ArgumentOutOfRangeException(nameof(rentPerHour), rentPerHour, $"Rent is {rentPerHour} an hour; allowed is more than the energy, {energyPerHour}.");
}
