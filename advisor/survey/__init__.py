"""The survey: what the installer found and what the household wishes, as value sets."""

from advisor.survey.reader import read
from advisor.survey.record import Answer, Survey, SurveyError

__all__ = ["Answer", "Survey", "SurveyError", "read"]
