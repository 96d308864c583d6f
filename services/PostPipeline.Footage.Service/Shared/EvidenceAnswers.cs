using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Footage.Evidences;
using EvidenceSheet = PostPipeline.Footage.Evidences.EvidenceSheet;
using EvidenceState = PostPipeline.Footage.Evidences.EvidenceState;
using SheetMessage = PostPipeline.Contracts.Footage.V1.EvidenceSheet;
using StateMessage = PostPipeline.Contracts.Footage.V1.EvidenceState;

namespace PostPipeline.Footage.Service.Shared;

/// <summary>Reads what is known and writes sheets of facts.</summary>
internal static class EvidenceAnswers
{
    public static IEnumerable<EvidenceResult> Release(IReadOnlyCollection<EvidenceItem> items, bool explain) => Answers(items, EvidenceSheet.ReleaseFacts, EvidenceSheet.ForRelease, explain);

    public static IEnumerable<EvidenceResult> Purge(IReadOnlyCollection<EvidenceItem> items, bool explain) => Answers(items, EvidenceSheet.PurgeFacts, EvidenceSheet.ForPurge, explain);

    private static IEnumerable<EvidenceResult> Answers(
        IReadOnlyCollection<EvidenceItem> items, IReadOnlyList<string> facts, Func<string, IReadOnlyDictionary<string, EvidenceState>, EvidenceSheet> make, bool explain) =>
        Batch.Answers(
            items,
            (item, problems) => Answer(item, problems, facts, make, explain),
            static (i, v, e) => v is null ? new EvidenceResult { Label = i.Label, Error = e } : new EvidenceResult { Label = i.Label, Sheet = v });

    private static SheetMessage? Answer(
        EvidenceItem item, ItemProblems problems, IReadOnlyList<string> facts, Func<string, IReadOnlyDictionary<string, EvidenceState>, EvidenceSheet> make, bool explain)
    {
        problems.Label(item.Label);
        Dictionary<string, EvidenceState> states = [];
        for (int i = 0; i < item.Facts.Count; i++)
        {
            if (!facts.Contains(item.Facts[i].Fact))
            {
                problems.Add($"facts[{i}].fact", $"is '{item.Facts[i].Fact}'; allowed are {string.Join("; ", facts)}");
            }
            else if (!states.TryAdd(item.Facts[i].Fact, Read(item.Facts[i].State)))
            {
                problems.Add($"facts[{i}].fact", $"is '{item.Facts[i].Fact}', which stands twice");
            }
        }

        return problems.None ? Write(make(item.Label, states), explain) : null;
    }

    private static SheetMessage Write(EvidenceSheet sheet, bool explain)
    {
        SheetMessage message = new()
        {
            Subject = sheet.Subject,
            Absent = sheet.Facts.Count(f => f.State == EvidenceState.Absent),
            Unknown = sheet.Facts.Count(f => f.State == EvidenceState.Unknown),
            Foot = sheet.Foot,
            Derivation = explain ? Wire.Of(EvidenceExplanation.Of(sheet)) : null,
        };
        message.Facts.AddRange(sheet.Facts.Select(f => new EvidenceFact
        {
            Fact = f.Fact,
            State = f.State switch { EvidenceState.Present => StateMessage.Present, EvidenceState.Absent => StateMessage.Absent, _ => StateMessage.Unknown },
        }));
        return message;
    }

    private static EvidenceState Read(StateMessage state) => state switch
    {
        StateMessage.Present => EvidenceState.Present,
        StateMessage.Absent => EvidenceState.Absent,
        _ => EvidenceState.Unknown,
    };
}
