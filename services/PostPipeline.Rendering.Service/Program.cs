return await PostPipeline.Hosting.PostPipelineHost.RunAsync(PostPipeline.Rendering.Service.RenderingHost.Definition, args);
