"""One tyre: from a case to a docket."""

from mendbook.triage.judgement import judge
from mendbook.triage.replay import replay
from mendbook.triage.shop import Shop, open_shop

__all__ = ["Shop", "judge", "open_shop", "replay"]
