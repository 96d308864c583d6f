return await PostPipeline.Hosting.PostPipelineHost.RunAsync(PostPipeline.Footage.Service.FootageHost.Definition, args);
