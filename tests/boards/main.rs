mod jobs;
