namespace PostPipeline.Farms.Simulations;

/// <content>Jobs: what waits, what is tried again, what is done.</content>
internal sealed partial class FarmRun
{
    // One thing that a job waited for is there: its material, or a job before it.
    private void Arrived(int job)
    {
        finished.Clear();
        Provide(job);
        Settle();
    }

    private void TaskDone(int job)
    {
        inSystem--;
        ref JobState state = ref jobs[job];
        if (job < plan.OwnJobs)
        {
            tasksDone++;
        }

        if (--state.Remaining > 0)
        {
            return;
        }

        ref readonly PlannedJob planned = ref plan.Jobs[job];
        if (planned.HasJoin && state.Limit == planned.Segments)
        {
            state.Limit++;
            state.Remaining = 1;
            state.ReadyAt = now;
            inSystem++;
            Wait(job, 1);
            return;
        }

        finished.Clear();
        finished.Push(job);
        Settle();
    }

    // A stack, not recursion: a long chain of empty jobs must not end the process.
    private void Settle()
    {
        while (finished.TryPop(out int job))
        {
            if (job < plan.OwnJobs)
            {
                finishes[job] = now;
                outstanding--;
            }

            ref readonly PlannedJob planned = ref plan.Jobs[job];
            for (int f = planned.FollowersFrom; f < planned.FollowersUntil; f++)
            {
                Provide(plan.Followers[f]);
            }
        }
    }

    private void Provide(int job)
    {
        ref JobState state = ref jobs[job];
        if (--state.Missing > 0)
        {
            return;
        }

        state.ReadyAt = now;
        if (state.Limit == 0)
        {
            finished.Push(job);
            return;
        }

        int waiting = state.Limit - plan.Jobs[job].Running;
        if (waiting > 0)
        {
            inSystem += waiting;
            Wait(job, waiting);
        }
    }

    private void Wait(int job, int tasks)
    {
        int lane = plan.Jobs[job].Lane;
        laneReady[lane] += tasks;
        readyTasks += tasks;
        if (!jobs[job].Waiting)
        {
            jobs[job].Waiting = true;
            lanes[lane].Add(plan.Jobs[job].Rank, job, job);
        }
    }

    private void TryAgain(in NodeState node, bool excused)
    {
        int entry = freeRetries.TryPop(out int free) ? free : retries.Count;
        RetryEntry retry = new()
        {
            Job = node.Job,
            Segment = node.Segment,
            Attempt = node.Attempt + 1,
            Excused = excused ? node.Excused + 1 : node.Excused,
            Mended = node.Mended,
            Next = -1,
        };
        if (entry == retries.Count)
        {
            retries.Add(retry);
        }
        else
        {
            retries[entry] = retry;
        }

        ref readonly PlannedClass kind = ref plan.Classes[plan.Jobs[node.Job].Class];
        if (retry.Attempt - retry.Excused < kind.RetryCap)
        {
            Requeue(entry);
            return;
        }

        setAside++;
        long? look = scenario.Attended is null ? now : scenario.Attended.NextOpen(now);
        retry.Excused = retry.Attempt;
        retry.Mended = true;
        retries[entry] = retry;
        if (look is long seen)
        {
            queue.Add(seen + scenario.MendMicroseconds, EventKind.Mended, entry);
        }
    }

    private void Requeue(int entry)
    {
        RetryEntry retry = retries[entry];
        retry.Ready = now;
        retries[entry] = retry;
        ref JobState state = ref jobs[retry.Job];
        if (state.RetryHead < 0)
        {
            state.RetryHead = entry;
        }
        else
        {
            RetryEntry last = retries[state.RetryTail];
            last.Next = entry;
            retries[state.RetryTail] = last;
        }

        state.RetryTail = entry;
        Wait(retry.Job, 1);
    }
}
