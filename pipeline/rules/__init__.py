"""The stages as Snakemake rules, one file a stage, and the plan that they share."""
