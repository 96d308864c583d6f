namespace PostPipeline.Studies.Outcomes;

/// <summary>A line of the budget over all draws.</summary>
/// <param name="Name">What is paid for.</param>
/// <param name="Payer">Who pays.</param>
/// <param name="Amount">The amount bought.</param>
/// <param name="Unit">Its unit.</param>
/// <param name="Money">Money.</param>
/// <param name="PriceInvented">Whether its price is an invented default.</param>
public sealed record CostLine(string Name, string Payer, Range Amount, string Unit, Range Money, bool PriceInvented);
