using System.Globalization;
using PostPipeline.Cli.Frame;
using PostPipeline.Contracts.Rendering.V1;
using PostPipeline.Studies.Benchmarks;

namespace PostPipeline.Cli.Commands.Farms;

/// <summary>Reads a farm's own log: CSV (RFC 4180), one attempt at one task a row, columns and words as <see cref="FarmLogOptions"/> map them.</summary>
internal static class FarmLog
{
    /// <summary>The most rows of a log.</summary>
    public const int MostRows = 1_000_000;

    private const int MostAttempts = 10_000;
    private const int MostProblems = 100;

    /// <summary>Reads a log.</summary>
    /// <param name="session">The command line, and its token: Ctrl-C ends the reading.</param>
    /// <param name="path">The file.</param>
    /// <param name="whole">Whether every row must say its task and its state in one of the words named.</param>
    /// <param name="attemptColumn">Column with the number of the attempt; null for a column named attempt, if there is one.</param>
    /// <param name="progress">Told the part that was read.</param>
    /// <param name="most">The most rows.</param>
    /// <exception cref="InputException">Bad rows by their lines, the first hundred problems at most; or more rows than are allowed.</exception>
    public static IReadOnlyList<FarmLogRow> Read(Session session, string path, bool whole, string? attemptColumn = null, IProgress<double>? progress = null, int most = MostRows)
    {
        RowFile file = RowFile.Open(path);
        FarmLogMapping at = FarmLogOptions.Mapping(session, file, whole);
        int number = attemptColumn is not null ? file.Needed("--attempt", attemptColumn) : file.Position("attempt");
        List<FarmLogRow> rows = [];
        List<InputProblem> problems = [];
        foreach ((long line, string[] cells) in file.Rows(progress))
        {
            session.Cancellation.ThrowIfCancellationRequested();
            if (rows.Count == most)
            {
                throw new InputException(new InputProblem(path, line, 0, string.Empty, string.Empty, $"the log has more than {most} rows; allowed is up to {most}, so split it by days"));
            }

            string Cell(int column) => column < 0 ? string.Empty : cells[column].Trim();
            void Wrong(int column, string allowed) => problems.Add(new(path, line, 0, file.Columns[column], Cell(column), allowed));
            AttemptState state = at.StateOf(Cell(at.State));
            if (whole && state == AttemptState.Unspecified)
            {
                Wrong(at.State, "allowed are the words of --done, --failed and --running");
            }

            if (!long.TryParse(Cell(at.Frames), NumberStyles.None, CultureInfo.InvariantCulture, out long frames) || frames < 1)
            {
                Wrong(at.Frames, "allowed is a whole number of frames, 1 or more");
            }

            int attempt = 0;
            if (Cell(number).Length > 0 && (!int.TryParse(Cell(number), NumberStyles.None, CultureInfo.InvariantCulture, out attempt) || attempt is < 1 or > MostAttempts))
            {
                Wrong(number, $"allowed is the number of the attempt, 1 to {MostAttempts}, or nothing");
            }

            if (!at.TryTime(Cell(at.Start), out double start))
            {
                Wrong(at.Start, "allowed is a time such as 2031-05-04T22:10:00Z or seconds since 1970-01-01 UTC");
            }

            // What stands in the end of a task that runs is at best a guess. A log without words for states says by an empty end that a task runs.
            double? end = null;
            if (state != AttemptState.Running && (whole || Cell(at.End).Length > 0))
            {
                if (at.TryTime(Cell(at.End), out double until) && until >= start)
                {
                    end = until;
                }
                else
                {
                    Wrong(at.End, "allowed is a time that is not before the start");
                }
            }

            if (problems.Count >= MostProblems)
            {
                break;
            }

            rows.Add(new(line, Cell(at.Job), Cell(at.Task), Cell(at.Node), start, end, frames, state, Cell(at.State), attempt));
        }

        return problems.Count == 0 ? rows : throw new InputException(problems);
    }
}
