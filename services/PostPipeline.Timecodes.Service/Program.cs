return await PostPipeline.Hosting.PostPipelineHost.RunAsync(PostPipeline.Timecodes.Service.TimecodeHost.Definition, args);
