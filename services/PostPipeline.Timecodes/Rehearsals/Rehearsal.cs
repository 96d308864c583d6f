using System.Collections.Immutable;
using PostPipeline.Quantities;
using PostPipeline.Timecodes.Conforming;
using PostPipeline.Timecodes.Inventories;
using PostPipeline.Timecodes.OffSpeed;

namespace PostPipeline.Timecodes.Rehearsals;

/// <summary>
/// The conform check on clips that do not exist yet: the takes of a plan get the labels that the cameras' settings
/// would give them, a synthetic cut is made of them, and the same ladder matches the cut with the clips. Every
/// labelling behaviour that is possible is tried; a plan passes only where every one passes.
/// </summary>
public static class Rehearsal
{
    /// <summary>The most combinations of behaviours tried for one group of cameras that share names.</summary>
    public const int MaximumCombinations = 64;

    private static readonly OffSpeedLabelling[] Behaviours =
        [OffSpeedLabelling.PerFrame, OffSpeedLabelling.FollowsClock, OffSpeedLabelling.RecordRunForced, OffSpeedLabelling.None];

    /// <summary>Rehearses a plan.</summary>
    /// <param name="plan">The plan.</param>
    /// <param name="cancellationToken">Ends the rehearsal early.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value lies outside its range.</exception>
    public static RehearsalResult Run(RehearsalPlan plan, CancellationToken cancellationToken = default)
    {
        Guard.InRange(plan.Takes.Length, 0, RehearsalPlan.MaximumTakes);
        Guard.InRange(plan.Events, 1, RehearsalPlan.MaximumEvents);
        Guard.InRange(plan.HandleFrames, 0, 1_000);
        Guard.InRange(plan.ReelCharacters, 0, Clip.MaximumNameBytes);
        SyntheticEvent[] events = SyntheticCut.Of(plan);
        List<RehearsalFinding> findings = [];
        FindingLedger ledger = new(plan);
        int worst = 0;
        int best = 0;
        int tried = 0;
        ILookup<int, SyntheticEvent> eventsOfTake = events.ToLookup(e => e.Take);
        foreach (List<int> group in CameraGroups.Of(plan))
        {
            GroupRehearsal rehearsal = new(plan, group, [.. group.SelectMany(take => eventsOfTake[take])], ledger);
            List<OffSpeedLabelling[]> combinations = Combinations(plan, group, out bool untried);
            if (untried)
            {
                findings.Add(Untried(plan, group));
            }

            int groupWorst = 0;
            int groupBest = int.MaxValue;
            bool[] namesTried = plan.NamesInList is { } known ? [known] : [true, false];
            foreach (OffSpeedLabelling[] combination in combinations)
            {
                rehearsal.Label(combination);
                foreach (bool names in namesTried)
                {
                    cancellationToken.ThrowIfCancellationRequested();
                    (int most, int fewest) = rehearsal.Check(names, combination, combinations.Count > 1, cancellationToken);
                    groupWorst = Math.Max(groupWorst, most);
                    groupBest = Math.Min(groupBest, fewest);
                }
            }

            ledger.CloseGroup(combinations.Count * namesTried.Length, findings);
            worst += groupWorst;
            best += groupBest;
            tried += combinations.Count * namesTried.Length;
        }

        findings.AddRange(CameraChecks.Of(plan, events));
        ImmutableArray<RehearsalFinding> ordered =
        [
            .. findings.OrderByDescending(f => f.TouchesMatch).ThenByDescending(f => f.Fails).ThenByDescending(f => f.Events)
                .ThenByDescending(f => f.Takes).ThenBy(f => f.Camera, StringComparer.Ordinal).ThenBy(f => f.Cause),
        ];
        bool? passes = ordered.Any(f => f.TouchesMatch && f.Fails) || best > 0 ? false
            : ordered.Any(f => f.TouchesMatch) || worst > 0 || plan.Takes.IsEmpty ? null
            : true;
        return new(passes, ordered, events.Length, worst, best, tried);
    }

    private static List<OffSpeedLabelling[]> Combinations(RehearsalPlan plan, List<int> group, out bool untried)
    {
        OffSpeedLabelling[] stated = [.. plan.Cameras.Select(c => c.OffSpeedLabelling == OffSpeedLabelling.Unknown ? OffSpeedLabelling.PerFrame : c.OffSpeedLabelling)];
        int[] open =
        [
            .. group.Where(take => plan.Takes[take].SensorRate != plan.Cameras[plan.Takes[take].Camera].Base.Rate)
                .Select(take => plan.Takes[take].Camera).Distinct().Where(c => plan.Cameras[c].OffSpeedLabelling == OffSpeedLabelling.Unknown).Order(),
        ];
        long all = 1;
        foreach (int _ in open)
        {
            all = Math.Min(all * Behaviours.Length, MaximumCombinations + 1);
        }

        untried = all > MaximumCombinations;
        List<OffSpeedLabelling[]> combinations = [];
        for (int number = 0; number < (untried ? Behaviours.Length : all); number++)
        {
            OffSpeedLabelling[] combination = [.. stated];
            int rest = number;
            foreach (int camera in open)
            {
                combination[camera] = Behaviours[rest % Behaviours.Length];
                rest = untried ? rest : rest / Behaviours.Length;
            }

            combinations.Add(combination);
        }

        return combinations;
    }

    private static RehearsalFinding Untried(RehearsalPlan plan, List<int> group)
    {
        RehearsalCamera camera = plan.Cameras[plan.Takes[group[0]].Camera];
        return new(
            RehearsalCause.CombinationsUntried,
            false,
            true,
            string.Empty,
            -1,
            group.Count,
            0,
            RehearsalText.Describe(RehearsalCause.CombinationsUntried, camera, plan, string.Empty),
            RehearsalText.Remedy(RehearsalCause.CombinationsUntried, camera, plan));
    }
}
