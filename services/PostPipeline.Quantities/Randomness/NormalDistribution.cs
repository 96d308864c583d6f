namespace PostPipeline.Quantities.Randomness;

/// <summary>The standard normal distribution.</summary>
public static class NormalDistribution
{
    /// <summary>
    /// The inverse of the cumulative distribution: Wichura's AS 241 (PPND16), Applied Statistics 37(3), 1988,
    /// relative accuracy about 1e-16.
    /// </summary>
    /// <param name="probability">Strictly between 0 and 1.</param>
    public static double Quantile(double probability)
    {
        if (!(probability > 0 && probability < 1))
        {
            throw new ArgumentOutOfRangeException(nameof(probability), probability, "The probability must lie strictly between 0 and 1.");
        }

        double q = probability - 0.5;
        if (Math.Abs(q) <= 0.425)
        {
            double r = 0.180625 - (q * q);
            return q
                * (((((((((((((2509.0809287301226727 * r) + 33430.575583588128105) * r) + 67265.770927008700853) * r) + 45921.953931549871457) * r) + 13731.693765509461125) * r) + 1971.5909503065514427) * r) + 133.14166789178437745) * r + 3.387132872796366608)
                / (((((((((((((5226.495278852545925 * r) + 28729.085735721942674) * r) + 39307.89580009271061) * r) + 21213.794301586595867) * r) + 5394.1960214247511077) * r) + 687.1870074920579083) * r) + 42.313330701600911252) * r + 1.0);
        }

        double tail = Math.Sqrt(-Math.Log(q < 0 ? probability : 1 - probability));
        double value;
        if (tail <= 5)
        {
            double r = tail - 1.6;
            value = (((((((((((((7.7454501427834140764e-4 * r) + 0.0227238449892691845833) * r) + 0.24178072517745061177) * r) + 1.27045825245236838258) * r) + 3.64784832476320460504) * r) + 5.7694972214606914055) * r) + 4.6303378461565452959) * r + 1.42343711074968357734)
                / (((((((((((((1.05075007164441684324e-9 * r) + 5.475938084995344946e-4) * r) + 0.0151986665636164571966) * r) + 0.14810397642748007459) * r) + 0.68976733498510000455) * r) + 1.6763848301838038494) * r) + 2.05319162663775882187) * r + 1.0);
        }
        else
        {
            double r = tail - 5;
            value = (((((((((((((2.01033439929228813265e-7 * r) + 2.71155556874348757815e-5) * r) + 0.0012426609473880784386) * r) + 0.026532189526576123093) * r) + 0.29656057182850489123) * r) + 1.7848265399172913358) * r) + 5.4637849111641143699) * r + 6.6579046435011037772)
                / (((((((((((((2.04426310338993978564e-15 * r) + 1.4215117583164458887e-7) * r) + 1.8463183175100546818e-5) * r) + 7.868691311456132591e-4) * r) + 0.0148753612908506148525) * r) + 0.13692988092273580531) * r) + 0.59983220655588793769) * r + 1.0);
        }

        return q < 0 ? -value : value;
    }

    /// <summary>
    /// The probability of a standard normal variate above a value: Marsaglia's series about 0 (Evaluating the Normal
    /// Distribution, Journal of Statistical Software 11(4), 2004) up to 3 in size, Laplace's continued fraction beyond.
    /// Relative accuracy about 1e-13.
    /// </summary>
    /// <param name="value">Any number.</param>
    public static double UpperTail(double value)
    {
        double size = Math.Abs(value);
        double density = Math.Exp(-size * size / 2) / Math.Sqrt(2 * Math.PI);
        double tail;
        if (size <= 3)
        {
            double term = size;
            double sum = size;
            for (int i = 3; term > 1e-18 * sum; i += 2)
            {
                term *= size * size / i;
                sum += term;
            }

            tail = 0.5 - (density * sum);
        }
        else
        {
            double fraction = size;
            for (int i = 100; i >= 1; i--)
            {
                fraction = size + (i / fraction);
            }

            tail = density / fraction;
        }

        return value >= 0 ? tail : 1 - tail;
    }

    /// <summary>The probability of a standard normal variate up to a value.</summary>
    /// <param name="value">Any number.</param>
    public static double Cumulative(double value) => UpperTail(-value);
}
