namespace PostPipeline.Studies.Briefs;

/// <summary>Finds the word that a typing mistake most likely meant.</summary>
internal static class NearestWord
{
    /// <summary>The nearest of the words by the number of single-letter changes, or null where none is near.</summary>
    public static string? Of(string typed, IEnumerable<string> words)
    {
        string? best = null;
        int least = Math.Max(2, typed.Length / 2) + 1;
        foreach (string word in words)
        {
            int distance = Distance(typed, word);
            if (distance < least)
            {
                (best, least) = (word, distance);
            }
        }

        return best;
    }

    // Levenshtein 1966: insertions, deletions and substitutions, one row at a time.
    private static int Distance(string a, string b)
    {
        if (a.Length > 64)
        {
            return int.MaxValue;
        }

        int[] row = [.. Enumerable.Range(0, b.Length + 1)];
        for (int i = 1; i <= a.Length; i++)
        {
            int diagonal = row[0];
            row[0] = i;
            for (int j = 1; j <= b.Length; j++)
            {
                int above = row[j];
                row[j] = Math.Min(Math.Min(row[j], row[j - 1]) + 1, diagonal + (a[i - 1] == b[j - 1] ? 0 : 1));
                diagonal = above;
            }
        }

        return row[^1];
    }
}
