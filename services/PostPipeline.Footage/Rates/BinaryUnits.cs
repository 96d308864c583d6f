using PostPipeline.Quantities;

namespace PostPipeline.Footage.Rates;

/// <summary>How far 2¹⁰ and 10³ are apart (IEC 80000-13): a size entered as GiB where GB was meant is 7.37 % more.</summary>
public static class BinaryUnits
{
    /// <summary>(1024/1000)ⁿ − 1, exact: by how much the binary unit is larger.</summary>
    /// <param name="power">1 for kilo, 2 for mega, 3 for giga, 4 for tera, 5 for peta.</param>
    public static Rational Excess(int power)
    {
        Guard.InRange(power, 1, 5);
        Rational factor = 1;
        for (int i = 0; i < power; i++)
        {
            factor *= new Rational(1024, 1000);
        }

        return factor - 1;
    }
}
