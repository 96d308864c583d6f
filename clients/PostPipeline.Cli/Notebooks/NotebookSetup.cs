using PostPipeline.Client;
using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Embedded;
using PostPipeline.Notebooks;
using PostPipeline.Notebooks.Engines;
using PostPipeline.Notebooks.Runs;
using PostPipeline.Quantities;
using PostPipeline.Slates.Files;
using PostPipeline.Studies;

namespace PostPipeline.Cli.Notebooks;

/// <summary>What the cells of a notebook can use when the command runs it: the clients, embedded or remote.</summary>
internal static class NotebookSetup
{
    public static CellSetup Cells { get; } = CellSetup.Basic.With(
        [
            typeof(SuiteClients).Assembly, typeof(StudyModel).Assembly, typeof(Slate).Assembly, typeof(FootageService).Assembly, typeof(Rational).Assembly,
            typeof(Google.Protobuf.IMessage).Assembly, typeof(Grpc.Core.CallInvoker).Assembly, typeof(NodaTime.LocalDate).Assembly,
        ],
        [
            "PostPipeline.Client", "PostPipeline.Notebooks.Comparisons", "PostPipeline.Notebooks.Lessons", "PostPipeline.Notebooks.SlatePlans", "PostPipeline.Studies", "PostPipeline.Studies.Briefs", "PostPipeline.Studies.Outcomes", "PostPipeline.Quantities",
            "PostPipeline.Contracts.Footage.V1", "PostPipeline.Contracts.Rendering.V1", "PostPipeline.Contracts.Timecodes.V1", "PostPipeline.Contracts.Types.V1",
        ]);

    /// <summary>Lets cells call the services. They live as long as the process.</summary>
    public static void Prepare(ServicePlace place) => Suite.Use(async cancellation => place.Addresses.Count == 0
        ? EmbeddedSuite.InFolder(place.DataFolder).Clients
        : (await SuiteConnection.OpenAsync(place.Addresses, cancellationToken: cancellation).ConfigureAwait(false)).Clients);
}
