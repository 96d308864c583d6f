using System.Collections.Immutable;
using PostPipeline.RenderTimes.Trees;

namespace PostPipeline.RenderTimes.Predictors;

/// <summary>Which parts a predictor has and how they are fitted.</summary>
/// <param name="Name">What people read.</param>
/// <param name="Penalty">The ridge penalty of the linear part; null where there is none.</param>
/// <param name="Trees">How trees are boosted; null where there are none.</param>
internal sealed record PredictorKind(string Name, double? Penalty, TreeOptions? Trees)
{
    /// <summary>The kinds that cross-validation chooses from.</summary>
    /// <param name="rows">Rows of the training set: small sets get small trees.</param>
    public static ImmutableArray<PredictorKind> Candidates(int rows)
    {
        TreeOptions trees = rows < 5_000 ? new(100, 10, 0.12, 5, 0.8, 64) : new(300, 20, 0.08, 20, 0.8);
        TreeOptions few = trees with { Trees = trees.Trees / 2, Leaves = 6 };
        return
        [
            new("log-linear", 1e-4, null),
            new("log-linear, shrunk", 1e-2, null),
            new("log-linear, strongly shrunk", 0.1, null),
            new("boosted trees", null, trees),
            new("hybrid of log-linear and boosted trees", 1e-2, few),
        ];
    }

    /// <summary>The kind of a name for a set of so many rows; null where there is none.</summary>
    /// <param name="name">The name.</param>
    /// <param name="rows">Rows of the training set.</param>
    public static PredictorKind? Named(string name, int rows) => Candidates(rows).FirstOrDefault(k => k.Name == name);
}
