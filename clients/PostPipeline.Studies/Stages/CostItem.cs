namespace PostPipeline.Studies.Stages;

/// <summary>A line of the budget: an amount in a draw times a price that is an input.</summary>
/// <param name="Name">What is paid for.</param>
/// <param name="Unit">The unit of the amount.</param>
/// <param name="Payer">Who pays.</param>
/// <param name="Price">Place of the price in the inputs; −1 where the amount is money already.</param>
/// <param name="Amount">The amount in a draw.</param>
internal sealed record CostItem(string Name, string Unit, string Payer, int Price, Func<Scope, PipelineResult, double> Amount);
