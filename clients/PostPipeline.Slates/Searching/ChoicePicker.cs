using PostPipeline.Quantities.Randomness;

namespace PostPipeline.Slates.Searching;

/// <summary>Picks which choices a walker takes out of its plan, and in which order they are put back.</summary>
internal sealed class ChoicePicker
{
    private readonly SearchIndex index;
    private readonly OptionWindows windows;
    private readonly SearchState state;
    private readonly long[] leastMoney;

    public ChoicePicker(SearchIndex index, OptionWindows windows, SearchState state, bool[] possible)
    {
        (this.index, this.windows, this.state) = (index, windows, state);
        leastMoney = [.. index.Groups.Select(g => g.Where(o => possible[o]).Select(o => index.Options[o].Definition.Cost).DefaultIfEmpty(0).Min())];
    }

    /// <summary>When it is the turn of a choice: by due dates, by slack, by first starts, by both, or by due dates and chance.</summary>
    public double Key(int group, int order, ref RandomStream random)
    {
        IEnumerable<SearchTask> due = index.Groups[group].SelectMany(o => index.Options[o].Tasks).Where(t => t.Definition.Due is not null);
        double date = due.Select(t => (double)t.Definition.Due!.Value).DefaultIfEmpty(index.Horizon).Min();
        double rank = due.Select(t => (double)t.Definition.LatenessRank).DefaultIfEmpty(2).Min() * 2 * index.Horizon;
        double slack = due.Select(t => t.Definition.Due!.Value - (double)windows.EarliestEnd(t)).DefaultIfEmpty(index.Horizon).Max();
        double head = index.Groups[group].SelectMany(o => index.Options[o].Tasks).Min(windows.Head);
        return order switch
        {
            0 => rank + date,
            1 => rank + slack,
            2 => rank + head,
            3 => rank + (date / 2) + (head / 2),
            _ => rank + date + (random.NextUnit() * index.Horizon / 4),
        };
    }

    /// <summary>Picks choices to take out: one that is wanting at a level, mostly, and some that lie near it in time.</summary>
    public List<int> Pick(int focus, ref RandomStream random)
    {
        int all = index.Groups.Length;
        int count = Math.Min(all, random.NextUnit() < 0.1 ? 5 + random.NextBelow(8) : 1 + random.NextBelow(5));
        int anchor = random.NextBelow(all);
        if (random.NextUnit() < 0.6)
        {
            int from = random.NextBelow(all);
            for (int i = 0; i < all; i++)
            {
                int group = (from + i) % all;
                if (IsWanting(group, focus))
                {
                    anchor = group;
                    break;
                }
            }
        }

        List<int> groups = [anchor];
        (int first, int last) = Span(anchor);
        List<(int Group, double Far)> near = [];
        for (int group = 0; group < all; group++)
        {
            if (group != anchor)
            {
                (int from, int until) = Span(group);
                double apart = Math.Max(0, Math.Max(from - last, first - until));
                double middle = Math.Abs(((from + until) / 2.0) - ((first + last) / 2.0)) * 0.5;
                near.Add((group, apart + middle + (random.NextUnit() * 40)));
            }
        }

        groups.AddRange(near.OrderBy(n => n.Far).Take(count - 1).Select(n => n.Group));
        return groups;
    }

    /// <summary>Some order of choices: at random, or by due dates and chance.</summary>
    public List<int> Order(List<int> groups, ref RandomStream random)
    {
        if (random.NextUnit() < 0.3)
        {
            List<(int Group, double Key)> keyed = [];
            foreach (int group in groups)
            {
                keyed.Add((group, Key(group, 4, ref random)));
            }

            return [.. keyed.OrderBy(p => p.Key).Select(p => p.Group)];
        }

        List<int> order = [.. groups];
        for (int i = order.Count - 1; i > 0; i--)
        {
            int other = random.NextBelow(i + 1);
            (order[i], order[other]) = (order[other], order[i]);
        }

        return order;
    }

    private bool IsWanting(int group, int focus) =>
        state.Placed[group] is not Placement placement
        || placement.Parts[LevelValues.Impossible] > 0
        || (focus == LevelValues.Extras ? state.IsRenting(placement) : focus == LevelValues.Money ? placement.Parts[focus] > leastMoney[group] : placement.Parts[focus] > 0);

    private (int First, int Last) Span(int group) =>
        state.Placed[group] is Placement placement ? (placement.FirstSlot, placement.LastSlot) : (0, index.Horizon);
}
