namespace PostPipeline.RenderTimes.Trees;

/// <summary>How trees are boosted.</summary>
/// <param name="Trees">Number of trees.</param>
/// <param name="Leaves">Leaves of a tree at most.</param>
/// <param name="LearningRate">The part of each tree that is taken.</param>
/// <param name="RowsPerLeaf">The fewest rows in a leaf.</param>
/// <param name="FeatureFraction">The part of the features that a tree may ask for.</param>
/// <param name="Bins">How finely a feature's values are told apart.</param>
internal sealed record TreeOptions(int Trees, int Leaves, double LearningRate, int RowsPerLeaf, double FeatureFraction = 1, int Bins = 255);
