using MathNet.Numerics.Distributions;

namespace PostPipeline.Studies.Scheduling;

/// <summary>
/// The critical path of a project network: forward and backward pass (Kelley and Walker 1959), and PERT's normal
/// approximation of the end (Malcolm et al. 1959).
/// </summary>
public sealed class CriticalPath
{
    private readonly Dictionary<string, ActivityTimes> times = new(StringComparer.Ordinal);

    /// <summary>Computes a network.</summary>
    /// <param name="activities">Activities with unique names, in any order.</param>
    /// <exception cref="ArgumentException">A name stands twice, an activity waits for one that is not there, or the network has a circle.</exception>
    public CriticalPath(IReadOnlyList<Activity> activities)
    {
        List<Activity> order = Order(activities);
        Dictionary<string, double> finish = [];
        foreach (Activity activity in order)
        {
            finish[activity.Name] = activity.After.Select(a => finish[a]).DefaultIfEmpty(0).Max() + activity.Duration;
        }

        Duration = finish.Values.DefaultIfEmpty(0).Max();
        Dictionary<string, double> latest = order.ToDictionary(a => a.Name, _ => Duration);
        foreach (Activity activity in Enumerable.Reverse(order))
        {
            double start = latest[activity.Name] - activity.Duration;
            foreach (string before in activity.After)
            {
                latest[before] = Math.Min(latest[before], start);
            }

            times[activity.Name] = new(finish[activity.Name] - activity.Duration, finish[activity.Name], start, latest[activity.Name]);
        }

        Critical = [.. order.Where(a => times[a.Name].Slack < 1e-9).Select(a => a.Name)];
        Variance = PathVariance(order);
    }

    /// <summary>From start to end.</summary>
    public double Duration { get; }

    /// <summary>Activities without slack, in an order that respects what each waits for.</summary>
    public IReadOnlyList<string> Critical { get; }

    /// <summary>The largest variance of a critical path.</summary>
    public double Variance { get; }

    /// <summary>An activity's times.</summary>
    /// <param name="name">Its name.</param>
    public ActivityTimes this[string name] => times[name];

    /// <summary>PERT's chance that the project ends by a time: the critical path's length taken as normal.</summary>
    /// <param name="time">Any time.</param>
    public double ChanceBy(double time) => Variance > 0 ? Normal.CDF(Duration, Math.Sqrt(Variance), time) : time >= Duration ? 1 : 0;

    private double PathVariance(List<Activity> order)
    {
        Dictionary<string, double> variance = [];
        foreach (Activity activity in order.Where(a => times[a.Name].Slack < 1e-9))
        {
            double start = times[activity.Name].EarliestStart;
            variance[activity.Name] = activity.Variance
                + activity.After.Where(a => variance.ContainsKey(a) && Math.Abs(times[a].EarliestFinish - start) < 1e-9).Select(a => variance[a]).DefaultIfEmpty(0).Max();
        }

        return variance.Where(v => Math.Abs(times[v.Key].EarliestFinish - Duration) < 1e-9).Select(v => v.Value).DefaultIfEmpty(0).Max();
    }

    private static List<Activity> Order(IReadOnlyList<Activity> activities)
    {
        Dictionary<string, Activity> byName = new(StringComparer.Ordinal);
        foreach (Activity activity in activities)
        {
            if (!byName.TryAdd(activity.Name, activity))
            {
                throw new ArgumentException($"The activity '{activity.Name}' stands twice.", nameof(activities));
            }
        }

        List<Activity> order = [];
        HashSet<string> done = [];
        HashSet<string> open = [];
        void Visit(string name, string by)
        {
            if (done.Contains(name))
            {
                return;
            }

            if (!byName.TryGetValue(name, out Activity? activity))
            {
                throw new ArgumentException($"'{by}' waits for '{name}', which is not there.", nameof(activities));
            }

            if (!open.Add(name))
            {
                throw new ArgumentException($"The activity '{name}' waits for itself, directly or through others.", nameof(activities));
            }

            foreach (string before in activity.After)
            {
                Visit(before, name);
            }

            done.Add(name);
            order.Add(activity);
        }

        foreach (Activity activity in activities)
        {
            Visit(activity.Name, activity.Name);
        }

        return order;
    }
}
