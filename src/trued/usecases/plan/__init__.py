"""Planning a job: from its file to layout, order, tickets, fits, sheets and the document that is kept."""
