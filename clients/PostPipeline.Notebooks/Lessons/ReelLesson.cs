using System.Globalization;
using System.Text;
using PostPipeline.Client;
using PostPipeline.Client.Conforming;
using PostPipeline.Contracts.Timecodes.V1;
using PostPipeline.Notebooks.Charts;

namespace PostPipeline.Notebooks.Lessons;

/// <summary>Two reels with the same labels, and an edit list that cuts their names off. The matching comes from the conform service.</summary>
public sealed class ReelLesson
{
    private ReelLesson(ConformAnswer answer) => Answer = answer;

    /// <summary>The service's answer.</summary>
    public ConformAnswer Answer { get; }

    /// <summary>Asks the conform service about one event of each reel.</summary>
    /// <param name="first">The first reel's name.</param>
    /// <param name="second">The second reel's name.</param>
    /// <param name="characters">Characters of a reel name that the edit list keeps.</param>
    public static async Task<ReelLesson> AskAsync(string first, string second, int characters)
    {
        SuiteClients suite = await Suite.ClientsAsync().ConfigureAwait(false);
        string[] reels = [first, second];
        StringBuilder cut = new("TITLE: TWO REELS\nFCM: NON-DROP FRAME\n");
        StringBuilder clips = new("name,reel,start,frames,rate,drop,kind\n");
        for (int i = 0; i < reels.Length; i++)
        {
            string kept = reels[i][..Math.Min(characters, reels[i].Length)];
            cut.Append(CultureInfo.InvariantCulture, $"{i + 1:D3}  {kept} V     C        10:00:02:00 10:00:06:00 01:00:0{i * 4}:00 01:00:0{(i + 1) * 4}:00\n");
            clips.Append(CultureInfo.InvariantCulture, $"{reels[i]}_TAKE,{reels[i]},10:00:00:00,240,24,no,original\n");
        }

        ConformSettings settings = new() { Rate = Wire.Rate(24), Format = CutFormat.EditList, Target = ClipKind.Original, AllEvents = true };
        ConformAnswer answer = await new ConformCalls(suite.Conform).ConformAsync(
            settings, new MemoryStream(Encoding.UTF8.GetBytes(cut.ToString())), null, new MemoryStream(Encoding.UTF8.GetBytes(clips.ToString())), Output.Stop).ConfigureAwait(false);
        return answer.Summary.Refused ? throw new InvalidOperationException(answer.Problems[0].Message) : new(answer);
    }

    /// <summary>What became of each event.</summary>
    public NumberTable Events => new(
        "What the list says, and what is found",
        ["Event", "Reel in the list", "Clips that fit", "Rung", "For a person", "What to do next"],
        [.. Answer.Events.Select(e => (IReadOnlyList<object?>)[e.Number, e.Reel, e.Candidates, e.Rung, e.NeedsPerson, e.NextStep])]);
}
