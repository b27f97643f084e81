"""What each sheet says, and how it becomes a page: plain view objects, HTML, PDF."""
