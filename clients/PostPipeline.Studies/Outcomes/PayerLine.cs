namespace PostPipeline.Studies.Outcomes;

/// <summary>What one payer pays, its lines added draw by draw. Means of payers add up to the mean of the whole; percentiles do not.</summary>
/// <param name="Payer">Who pays.</param>
/// <param name="Money">Money.</param>
/// <param name="Mean">The mean over draws.</param>
/// <param name="PriceInvented">Whether a price behind it is an invented default.</param>
public sealed record PayerLine(string Payer, Range Money, double Mean, bool PriceInvented);
