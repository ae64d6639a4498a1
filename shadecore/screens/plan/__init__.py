"""The page that plans the job."""
