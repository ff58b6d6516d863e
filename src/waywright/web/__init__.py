"""The pages: a thin skin over the verbs of ``jobs``, served to this computer's browser and to paired phones.

The pass runs in the server, in a thread of its own; a page that is reloaded or opened a second time catches up.
"""
