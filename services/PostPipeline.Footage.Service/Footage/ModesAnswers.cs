using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Footage.Rates;
using PostPipeline.Footage.Service.Shared;
using PostPipeline.Quantities;

namespace PostPipeline.Footage.Service.Footage;

/// <summary>Reads what cameras record in which mode and writes what it makes.</summary>
internal sealed class ModesAnswers(RateAnswers rates, bool explain)
{
    private const int MaximumModes = 1000;
    private const long LongestSeconds = 366 * 86_400L;

    public ModesTotal? Answer(CameraModes item, ItemProblems problems)
    {
        problems.Label(item.Label);
        problems.InRange("modes", item.Modes.Count, 0, MaximumModes);
        List<ModeShare> shares = [];
        for (int i = 0; i < item.Modes.Count && i < MaximumModes; i++)
        {
            ItemProblems own = new();
            Rational seconds = own.Fraction("record_seconds", item.Modes[i].RecordSeconds, 0, LongestSeconds, null);
            if (item.Modes[i].Mode is null)
            {
                own.Add("mode", "is not set");
            }
            else if (rates.Read(item.Modes[i].Mode, own) is { } mode)
            {
                shares.Add(new(mode.ToMode(), seconds));
            }

            if (!own.None)
            {
                Contracts.Types.V1.ItemError error = own.ToError();
                problems.Add($"modes[{i}].{error.Field}", error.Description);
            }
        }

        if (!problems.None)
        {
            return null;
        }

        ModesTotal total = new() { Bytes = ModeShare.Total(shares).Bytes, Frames = shares.Aggregate(0L, (sum, s) => checked(sum + s.Frames)) };
        total.ModeBytes.AddRange(shares.Select(s => s.Bytes.Bytes));
        total.Derivation = explain ? Wire.Of(ModeShare.Explain(shares)) : null;
        return total;
    }
}
