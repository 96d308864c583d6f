namespace PostPipeline.Studies.WhatIfs;

/// <summary>Where the preferred pipeline changes along an input.</summary>
/// <param name="Input">The input.</param>
/// <param name="Value">The value at which it changes, in the input's unit.</param>
/// <param name="Below">The preferred pipeline below it, or "none".</param>
/// <param name="Above">The preferred pipeline above it, or "none".</param>
/// <param name="OpenFrom">Lower end of the interval that sampling noise leaves open.</param>
/// <param name="OpenTo">Upper end of that interval.</param>
public sealed record TippingValue(string Input, double Value, string Below, string Above, double OpenFrom, double OpenTo);
