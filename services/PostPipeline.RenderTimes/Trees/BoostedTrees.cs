using Microsoft.ML;
using Microsoft.ML.Data;
using Microsoft.ML.Trainers.FastTree;

namespace PostPipeline.RenderTimes.Trees;

/// <summary>
/// Boosted regression trees by ML.NET's FastTree, read out of the trained model into plain lists. One thread
/// and a fixed seed: the same rows give the same trees.
/// </summary>
internal static class BoostedTrees
{
    /// <summary>Trains on rows.</summary>
    /// <param name="features">One array a row, all of the same length.</param>
    /// <param name="labels">The value of each row.</param>
    /// <param name="options">How trees are boosted.</param>
    /// <param name="seed">Seed of the trainer.</param>
    public static TreeEnsemble Fit(float[][] features, float[] labels, TreeOptions options, int seed)
    {
        MLContext context = new(seed);
        (IDataView data, ITransformer _, RegressionPredictionTransformer<FastTreeRegressionModelParameters> trained) = Train(context, features, labels, options, seed);
        (data as IDisposable)?.Dispose();
        RegressionTreeEnsemble ensemble = trained.Model.TrainedTreeEnsemble;
        return new(ensemble.Bias, [.. ensemble.Trees.Select((tree, i) => Flatten(tree, ensemble.TreeWeights[i]))]);
    }

    /// <summary>Trains and predicts with ML.NET's own transformer; the tests hold our reading of the trees against it.</summary>
    /// <param name="features">Training rows.</param>
    /// <param name="labels">Their values.</param>
    /// <param name="options">How trees are boosted.</param>
    /// <param name="seed">Seed of the trainer.</param>
    internal static float[] FitAndTransform(float[][] features, float[] labels, TreeOptions options, int seed)
    {
        MLContext context = new(seed);
        (IDataView data, ITransformer model, _) = Train(context, features, labels, options, seed);
        return [.. model.Transform(data).GetColumn<float>("Score")];
    }

    private static (IDataView Data, ITransformer Model, RegressionPredictionTransformer<FastTreeRegressionModelParameters> Trained) Train(
        MLContext context, float[][] features, float[] labels, TreeOptions options, int seed)
    {
        SchemaDefinition schema = SchemaDefinition.Create(typeof(TrainingRow));
        schema[nameof(TrainingRow.Features)].ColumnType = new VectorDataViewType(NumberDataViewType.Single, features[0].Length);
        IDataView data = context.Data.LoadFromEnumerable(
            features.Select((f, i) => new TrainingRow { Features = f, Label = labels[i] }), schema);
        FastTreeRegressionTrainer trainer = context.Regression.Trainers.FastTree(new FastTreeRegressionTrainer.Options
        {
            NumberOfTrees = options.Trees,
            NumberOfLeaves = options.Leaves,
            LearningRate = options.LearningRate,
            MinimumExampleCountPerLeaf = options.RowsPerLeaf,
            FeatureFraction = options.FeatureFraction,
            MaximumBinCountPerFeature = options.Bins,
            Seed = seed,
            FeatureSelectionSeed = seed,
            NumberOfThreads = 1,
        });
        RegressionPredictionTransformer<FastTreeRegressionModelParameters> trained = trainer.Fit(data);
        return (data, trained, trained);
    }

    private static FlatTree Flatten(RegressionTree tree, double weight)
    {
        int nodes = tree.NumberOfNodes;
        return new(
            [.. tree.NumericalSplitFeatureIndexes.Take(nodes)],
            [.. tree.NumericalSplitThresholds.Take(nodes)],
            [.. tree.LeftChild.Take(nodes)],
            [.. tree.RightChild.Take(nodes)],
            [.. tree.LeafValues.Select(v => v * weight)]);
    }

    private sealed class TrainingRow
    {
        public float[] Features { get; set; } = [];

        public float Label { get; set; }
    }
}
