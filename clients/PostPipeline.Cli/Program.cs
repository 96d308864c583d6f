return await PostPipeline.Cli.Frame.CommandLine.RunAsync(args);
