namespace PostPipeline.Farms;

/// <summary>Whose task an idle node takes.</summary>
public enum SharingRule
{
    /// <summary>The task of the highest priority; equal priorities by release, then by place in the list.</summary>
    Strict = 0,

    /// <summary>A task of the project with the fewest running tasks for its weight; inside the project as under strict.</summary>
    Fair = 1,
}
