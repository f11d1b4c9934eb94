"""The funnel that sends the rubber down the channel."""
