"""Signs and short forms as sheets print them, each written once: note marks, threads, figures."""
