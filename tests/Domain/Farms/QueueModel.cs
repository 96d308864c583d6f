using System.Globalization;
using System.Text.RegularExpressions;
using PostPipeline.Farms;
using PostPipeline.Quantities.Randomness;

namespace PostPipeline.Domain.Tests.Farms;

/// <summary>A queueing model written as a farm: one replication gives one estimate of every measure of the table.</summary>
internal abstract class QueueModel
{
    /// <summary>How many jobs a full check needs for half-widths of 2 %, with room; a short one takes a part of them.</summary>
    public abstract double FullJobs { get; }

    /// <summary>Runs one replication of so many jobs after the warm-up.</summary>
    public abstract QueueRun Run(long seed, int replication, int jobs);

    /// <summary>The model of a row; null where a farm cannot be it.</summary>
    public static QueueModel? Of(string model, string parameters)
    {
        double[] N(string name) => [.. Regex.Matches(Regex.Match(parameters, $@"(?:^|;){Regex.Escape(name)}=([^;(]*)").Groups[1].Value, @"[0-9.]+")
            .Select(m => double.Parse(m.Value, CultureInfo.InvariantCulture))];
        return model switch
        {
            "M/M/1" => new OpenQueue(N("lambda")[0], 1, 1, 1),
            "M/M/m" => new OpenQueue(N("offered_load_erlang")[0], 1, 1, (int)N("servers")[0]),
            "M/G/1" => new OpenQueue(N("lambda")[0], N("ES")[0], N("CV2")[0], 1),
            "closed MVA 1-class" or "closed ABA bounds" => new ClosedNetwork(N("S"), N("V"), [1, 1, 1], N("Z")[0], (int)N("N")[0]),
            "closed MVA multi-server" => new ClosedNetwork(N("S"), N("V"), [.. N("m").Select(m => (int)m)], N("Z")[0], (int)N("N")[0]),
            "closed MVA 2-class" => new TwoClassNetwork(N("N")),
            "open Jackson" => new JacksonNetwork(),
            _ => null,
        };
    }

    /// <summary>Service times of mean 1: constant, Erlang, exponential or hyperexponential with balanced means, by squared variation.</summary>
    internal static double Service(ref RandomStream random, double squaredVariation)
    {
        if (squaredVariation == 0)
        {
            return 1;
        }

        if (squaredVariation < 1)
        {
            int stages = (int)Math.Round(1 / squaredVariation);
            double sum = 0;
            for (int i = 0; i < stages; i++)
            {
                sum += random.NextExponential(1.0 / stages);
            }

            return sum;
        }

        if (squaredVariation == 1)
        {
            return random.NextExponential(1);
        }

        double p = (1 + Math.Sqrt((squaredVariation - 1) / (squaredVariation + 1))) / 2;
        return random.NextUnit() < p ? random.NextExponential(1 / (2 * p)) : random.NextExponential(1 / (2 * (1 - p)));
    }
}
