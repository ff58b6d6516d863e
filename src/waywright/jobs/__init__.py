"""The verbs of the job, one file a word; both skins call these and nothing below."""
